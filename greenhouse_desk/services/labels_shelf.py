"""The shelf of label layouts: those shipped, and the grower's own `labels/*.toml` beside the collection."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass, replace
from pathlib import Path

import tomli_w

from greenhouse_desk.domain.faults import Fault, Refused
from greenhouse_desk.domain.labels import Layout
from greenhouse_desk.domain.labels_reading import faults_of, plain, read_layout
from greenhouse_desk.services.shelf import toml
from greenhouse_desk.shipped import folder as shipped
from greenhouse_desk.store import disk
from greenhouse_desk.store.folder import LABELS

FIRST = "a4-70x30"
"""The layout that is offered first."""
LONGEST_NAME = 40


@dataclass(frozen=True, slots=True)
class Layouts:
    """What can be printed in, shipped ones first; `faults` are all faults of all files, whose layouts are left out."""

    all: tuple[Layout, ...]
    faults: tuple[Fault, ...] = ()

    def named(self, id: str) -> Layout:
        """The layout called `id`. Raises Refused where there is none."""
        found = next((layout for layout in self.all if layout.id == id), None)
        if found is None:
            raise Refused(f"There is no layout {id!r}", "There are " + ", ".join(one.id for one in self.all) + ".",
                          "Choose one of these.")
        return found


def layouts(folder: Path | None) -> Layouts:
    """Every layout shipped, and the grower's own in `folder` (None: no folder). Never raises for what a file says."""
    found: list[Layout] = []
    faults: list[Fault] = []
    for own, where in ((False, shipped(LABELS)), (True, folder / LABELS if folder else None)):
        for path in sorted(where.glob("*.toml")) if where is not None and where.is_dir() else ():
            layout, told = _read(path, own, {one.id for one in found})
            found += [layout] if layout is not None else []
            faults += told
    return Layouts(tuple(found), tuple(faults))


def _read(path: Path, own: bool, taken: set[str]) -> tuple[Layout | None, tuple[Fault, ...]]:
    name = f"{LABELS}/{path.name}" if own else path.name
    data, told = toml(path, name)
    layout, faults = (None, told) if data is None else read_layout(data, name, path.stem, own)
    if path.stem in taken:
        return None, (Fault(name, "file", f"another file name was expected: a shipped layout is called '{path.stem}'; "
                            "rename yours to show both"), *faults)
    return layout, faults


def keep(folder: Path, layout: Layout) -> Layout:
    """Write a layout as the grower's own file in `folder`: over its own one, else under a name made of its title.

    Returns it as it is read back. Raises Refused where its sizes do not go together or the file cannot be written.
    """
    id = layout.id if layout.own else free_name(folder, layout.title)
    kept = replace(layout, id=id, own=True)
    read, faults = read_layout(plain(kept), f"{id}.toml", id, own=True)
    wrong = (*faults, *faults_of(kept))
    if wrong or read is None:
        raise Refused("The layout does not go together", "; ".join(f"{one.path}: {one.message}" for one in wrong[:3])
                      + ".", "Change its sizes; nothing was kept.")
    with disk.disk_refusals("Keeping the layout"):
        disk.put(folder / LABELS / f"{id}.toml", tomli_w.dumps(plain(kept)).encode())
    return read


def forget(folder: Path, layout: Layout) -> None:
    """Remove a layout of the grower's own. Raises Refused for a shipped one or where the file cannot be removed."""
    if not layout.own:
        raise Refused(f"{layout.title} came with the program", "", "Only your own layouts can be removed.")
    with disk.disk_refusals("Removing the layout"):
        (folder / LABELS / f"{layout.id}.toml").unlink(missing_ok=True)


def free_name(folder: Path, title: str) -> str:
    """A file name of small letters and hyphens for a title, that neither a shipped nor an own layout has."""
    bare = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode().casefold()
    stem = "-".join(re.findall(r"[a-z0-9]+", bare))[:LONGEST_NAME] or "label"
    taken = {path.stem for where in (shipped(LABELS), folder / LABELS) for path in where.glob("*.toml")}
    return next(name for nth in range(1, len(taken) + 2) if (name := stem if nth == 1 else f"{stem}-{nth}")
                not in taken)

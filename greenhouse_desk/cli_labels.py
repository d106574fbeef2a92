"""The command line's labels: what is asked for, what came of it in words. The painter is handed in by cli.py."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.figures import counted
from greenhouse_desk.domain.labels import Layout, Told
from greenhouse_desk.domain.labels_sheets import Printed, printed
from greenhouse_desk.domain.paper import Measure
from greenhouse_desk.services import labels
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.labels_shelf import FIRST, layouts
from greenhouse_desk.services.shelf import shelf

DPI = 300
COARSEST, FINEST = 50, 2400


@dataclass(frozen=True, slots=True)
class Order:
    """Labels that were asked for: their layout, what each tells, and the pages they make."""

    layout: Layout
    tolds: tuple[Told, ...]
    printed: Printed
    copies: int = 1

    @property
    def title(self) -> str:
        """A title for the document."""
        return f"Labels, {self.layout.title}"

    @property
    def made(self) -> tuple[Told, ...]:
        """What the labels tell that could be made."""
        numbers = {one.number for one in self.printed.made}
        return tuple(told for told in self.tolds if told.number in numbers)

    def plain(self, files: Sequence[Path]) -> dict[str, Any]:
        """For --json."""
        return {"files": [str(file) for file in files], "layout": self.layout.id, "pages": len(self.printed.pages),
                "labels": [one.number for one in self.printed.made], "notes": list(self.printed.notes),
                "refused": list(self.printed.refusals)}

    def words(self, files: Sequence[Path]) -> str:
        """For reading."""
        many = counted(len(self.printed.made) * self.copies, "label")
        many += f", {self.copies} of each plant," if self.copies > 1 else ""
        into = str(files[0]) if len(files) == 1 else f"{files[0]} to {files[-1].name}"
        said = (f"{many} on {counted(len(self.printed.pages), 'page')} "
                f"({self.layout.title}) in {into}. Print at 100 %, without fitting to the page.")
        return "\n".join([said, *(f"  {note}" for note in self.printed.notes)])


def arguments(verb: argparse.ArgumentParser) -> None:
    """What the verb takes."""
    verb.add_argument("--plants", metavar="NUMBERS", help="such as 101-140,150; all that grow when left out. Of a span "
                                                          "only growing plants, one that left when it is named")
    verb.add_argument("--changed", action="store_true", help="only plants whose label is out of date")
    verb.add_argument("--layout", default=FIRST, metavar="NAME", help=f"{FIRST} when left out")
    verb.add_argument("--start", type=int, default=1, metavar="N", help="the first free label of a used sheet")
    verb.add_argument("--copies", type=int, default=1, metavar="N")
    verb.add_argument("--line", action="append", default=[], metavar="WORDS", help="a free line; may be given again")
    verb.add_argument("--dpi", type=int, default=DPI, help=f"dots to the inch of a PNG, {DPI} when left out")
    verb.add_argument("--no-entry", action="store_true", help="write nothing into the journal")
    verb.add_argument("-o", "--output", type=Path, required=True, metavar="FILE", help="a .pdf, .png or .svg")


def order(desk: Desk, args: argparse.Namespace, measure: Measure) -> Order:
    """The labels that were asked for. Raises Refused for what cannot be printed so."""
    if not COARSEST <= args.dpi <= FINEST:
        raise Refused(f"A picture of {args.dpi} dpi cannot be made", "", f"Ask for {COARSEST} to {FINEST}.")
    folder = desk.store.folder
    layout = layouts(folder).named(args.layout)
    wanted = _wanted(desk, args)
    tolds = desk.read(labels.told, wanted, shelf(folder).genera, args.line)
    return Order(layout, tolds, printed(layout, tolds, measure, args.start, args.copies), args.copies)


def _wanted(desk: Desk, args: argparse.Namespace) -> tuple[int, ...]:
    wanted = desk.read(labels.growing) if args.plants is None else desk.read(labels.named, args.plants)
    if args.changed:
        late = set(desk.read(labels.changed_since))
        wanted = tuple(number for number in wanted if number in late)
    if not wanted:
        raise Refused("No plant was chosen", "No label is out of date." if args.changed else "Nobody is named.",
                      "Name plants, such as --plants 101-140,150.")
    return wanted


def must_be_kept(read_only: Path | None, args: argparse.Namespace) -> None:
    """Refuse before a file is written when the entry for it could not be (`read_only` names what is)."""
    if read_only is not None and not args.no_entry:
        raise Refused("The collection cannot be written", f"{read_only} is read-only, and labels are written into the "
                      "journal.", "Give yourself the right to write there, or make them without an entry: --no-entry.")


def keep(desk: Desk, made: Order) -> None:
    """Write into the journal that these were printed."""
    desk.run(labels.printed, made.layout, made.made)

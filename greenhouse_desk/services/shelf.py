"""The shelf: protocols, agents and pests as they were shipped, with a grower's own protocols beside them."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

from greenhouse_desk.domain.agents import Agent, read_agents
from greenhouse_desk.domain.faults import Fault
from greenhouse_desk.domain.names_genera import Genera, Genus, read_genera
from greenhouse_desk.domain.pests import Pest, read_pests
from greenhouse_desk.domain.protocols import Protocol, faults, read_protocol
from greenhouse_desk.domain.year import GenusYear, read_years
from greenhouse_desk.shipped import folder as shipped
from greenhouse_desk.store.engine import Session
from greenhouse_desk.store.folder import GENERA, PROTOCOLS

OWN = PROTOCOLS
NO_GENERA = Genera()
YEARS = "years.toml"
LARGEST_BYTES = 1_000_000
LINE = re.compile(r"\(at line (\d+), column \d+\)")


@dataclass(frozen=True, slots=True)
class SetAside:
    """A file that is not used, and why: every fault found in it."""

    file: str
    faults: tuple[Fault, ...]


@dataclass(frozen=True, slots=True)
class Shelf:
    """What can be worked with. `faults` are all faults of all files; `set_aside` the files that are not used."""

    protocols: tuple[Protocol, ...]
    agents: Mapping[str, Agent]
    pests: Mapping[str, Pest]
    faults: tuple[Fault, ...] = ()
    set_aside: tuple[SetAside, ...] = ()
    genera: Genera = NO_GENERA

    def protocol(self, id: str) -> Protocol | None:
        """The protocol called `id`, or None."""
        return next((protocol for protocol in self.protocols if protocol.id == id), None)

    def faults_of(self, protocol: Protocol) -> tuple[Fault, ...]:
        """The faults of a protocol's work, checked now; grave ones must keep it from being started."""
        return faults(protocol, self.agents)

    def startable(self, protocol: Protocol) -> bool:
        """Whether a protocol has no grave fault: it breaks no do-not-mix rule."""
        return not any(fault.grave for fault in self.faults_of(protocol))


def shelf(folder: Path | None) -> Shelf:
    """Everything shipped, and the grower's own `protocols/*.toml` and `genera.toml` in `folder` (None: no folder).

    Never raises for what stands in a file: a file that cannot be used is set aside with its faults.
    """
    return _shipped_alone() if folder is None else _stocked(folder)


@cache
def _shipped_alone() -> Shelf:
    """What was shipped does not change while the program runs: it is read once, whoever asks."""
    return _stocked(None)


def _stocked(folder: Path | None) -> Shelf:
    agent_data, agent_told = toml(shipped("agents.toml"), "agents.toml")
    agents, agent_faults = read_agents(agent_data or {}, "agents.toml")
    pest_data, pest_told = toml(shipped("pests.toml"), "pests.toml")
    pests, pest_faults = read_pests(pest_data or {}, "pests.toml")
    read = [_read(path, agents, own=False) for path in _files(shipped(OWN))]
    shipped_ids = {protocol.id for protocol, _ in read if protocol is not None}
    read += [_read_own(path, agents, shipped_ids) for path in _files(folder / OWN if folder else None)]
    genera, genus_faults = _genera(folder)
    found = (*agent_told, *agent_faults, *pest_told, *pest_faults, *genus_faults, *shipped_years()[1],
             *(fault for _, told in read for fault in told))
    aside = tuple(SetAside(told[0].file, told) for protocol, told in read if protocol is None)
    return Shelf(tuple(protocol for protocol, _ in read if protocol is not None), agents, pests, found, aside, genera)


def _genera(folder: Path | None) -> tuple[Genera, tuple[Fault, ...]]:
    """The genera shipped and the grower's own; a genus at fault is left out."""
    known, told = _genus_file(shipped(GENERA), GENERA)
    if folder is None or not (folder / GENERA).exists():
        return Genera(known), told
    own, own_told = _genus_file(folder / GENERA, f"your {GENERA}")
    return Genera(known, own), (*told, *own_told)


@cache
def shipped_years() -> tuple[Mapping[str, GenusYear], tuple[Fault, ...]]:
    """The years of genera as they were shipped, and every fault in their file, read once."""
    data, told = toml(shipped(YEARS), YEARS)
    years, faults = read_years(data or {}, YEARS)
    return years, (*told, *faults)


def genera(session: Session) -> Genera:
    """The genera shipped and the grower's own of the open collection, read again when the grower's file changed."""
    own = Path(session.info["folder"]) / GENERA
    return _genera_of(own.parent, own.stat().st_mtime_ns if own.exists() else None)


@lru_cache(maxsize=4)
def _genera_of(folder: Path, _changed: int | None) -> Genera:
    return _genera(folder)[0]


def _genus_file(path: Path, name: str) -> tuple[tuple[Genus, ...], tuple[Fault, ...]]:
    data, told = toml(path, name)
    return ((), told) if data is None else read_genera(data, name)


class Shelves:
    """The shelf, read when first needed and again whenever a screen asks after a grower's own file changed."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._seen: tuple[tuple[str, float], ...] | None = None
        self._shelf: Shelf | None = None

    def __call__(self) -> Shelf:
        own = sorted((self._folder / OWN).glob("*.toml"))
        seen = tuple((path.name, path.stat().st_mtime) for path in own)
        if self._shelf is None or seen != self._seen:
            self._seen, self._shelf = seen, shelf(self._folder)
        return self._shelf


Read = tuple[Protocol | None, tuple[Fault, ...]]


def _files(folder: Path | None) -> list[Path]:
    return sorted(folder.glob("*.toml")) if folder is not None and folder.is_dir() else []


def _read_own(path: Path, agents: Mapping[str, Agent], shipped_ids: set[str]) -> Read:
    protocol, told = _read(path, agents, own=True)
    if path.stem not in shipped_ids:
        return protocol, told
    taken = Fault(_name(path, own=True), "file", f"another file name was expected: a shipped protocol is called "
                  f"'{path.stem}'; rename yours to show both")
    return None, (taken, *told)


def toml(path: Path, name: str) -> tuple[dict[str, Any] | None, tuple[Fault, ...]]:
    """The data of a TOML file, or None and the one fault that kept it from being read."""
    try:
        if path.stat().st_size > LARGEST_BYTES:
            return None, (Fault(name, "file", f"at most {LARGEST_BYTES // 1000} kB was expected"),)
        return tomllib.loads(path.read_bytes().decode("utf-8")), ()
    except OSError as error:
        return None, (Fault(name, "file", f"a file that can be read was expected: {error.strerror}"),)
    except UnicodeDecodeError as error:
        return None, (Fault(name, f"byte {error.start + 1}", "text in UTF-8 was expected"),)
    except RecursionError:
        return None, (Fault(name, "file", "fewer brackets inside brackets were expected"),)
    except ValueError as error:
        return None, (_toml_fault(name, str(error)),)


def _toml_fault(name: str, message: str) -> Fault:
    line = LINE.search(message)
    said = LINE.sub("", message).strip() or message
    return Fault(name, f"line {line.group(1)}" if line else "file", f"TOML was expected: {said}")


def _name(path: Path, own: bool) -> str:
    return f"{OWN}/{path.name}" if own else path.name


def _read(path: Path, agents: Mapping[str, Agent], own: bool) -> Read:
    name = _name(path, own)
    data, told = toml(path, name)
    return (None, told) if data is None else read_protocol(data, name, agents, own)

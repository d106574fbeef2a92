"""The command line's import: what it takes, and a logger's file taken in at a place."""

from __future__ import annotations

import argparse
from dataclasses import asdict
from datetime import datetime
from pathlib import Path
from typing import Any

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.services import air_import, collection, house
from greenhouse_desk.services.air_import import Looked, Prepared
from greenhouse_desk.services.air_import_words import faults, sentences
from greenhouse_desk.services.desk import Desk


def arguments(parser: argparse.ArgumentParser) -> None:
    """What can be said after `import`."""
    parser.add_argument("file", type=Path)
    parser.add_argument("--keep-good", action="store_true", help="take the good rows even where others are refused")
    parser.add_argument("--air", metavar="PLACE", help="the file is a logger's, and hung at this place; how it is read "
                        "is what you told in the window for the first one of that logger")


def air(desk: Desk, path: Path, place: str, now: datetime) -> tuple[dict[str, Any], str]:
    """Take a logger's file in at the place so named; what came of it, plain and in words.

    Lines that cannot be read are left out and told, as in the window. Raises Refused where the columns were never told,
    or bear no names by which they could be known again.
    """
    key, zone = collection.place_named(desk.read(collection.places_of), place), desk.read(house.zone)
    looked = desk.read(air_import.look, path)
    _check_known(looked)
    made = air_import.prepare(looked, key, zone, now, desk.read(air_import.known_days, key))
    desk.run(air_import.take_in, made)
    refused = [f"{made.heard.refused:,} lines refused:"] if made.heard.refused else []
    words = [*sentences(made, zone), *refused, *(f"  {line}" for line in faults(made))]
    return _plain(made), "\n".join(words)


def _check_known(looked: Looked) -> None:
    name = looked.path.name
    if not looked.sample.head:
        raise Refused(f"No line of {name} names its columns", "Temperature and humidity may stand either way round in "
                      "it.", "Bring it in in the window, and look over its first rows there; or let the logger write "
                      "the names.")
    if not looked.known:
        raise Refused(f"How {name} is to be read is not known", "No file with these columns was taken in yet: "
                      f"{', '.join(looked.sample.names)}.", "Bring one in in the window first: its columns, units and "
                      "clock are asked there, and remembered.")


def _plain(made: Prepared) -> dict[str, Any]:
    found = made.heard
    return {"readings": len(found.log.at), "added": made.added, "changed": made.changed, "known": air_import.same(made),
            "from": found.first.isoformat(), "to": found.last.isoformat(), "step_s": found.step_s,
            "gaps": [[one.start.isoformat(), one.end.isoformat()] for one in found.gaps], "refused": found.refused,
            "faults": [asdict(one) for one in found.faults], "notes": list(found.notes)}

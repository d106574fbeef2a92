"""What the command line takes: its verbs and their options."""

from __future__ import annotations

import argparse
import sys
from datetime import UTC, datetime
from pathlib import Path
from typing import NoReturn

from greenhouse_desk import cli_import, cli_labels

FAULT = 2
"""The exit code when something was refused or is at fault."""


class _Parser(argparse.ArgumentParser):
    def error(self, message: str) -> NoReturn:
        self.print_usage(sys.stderr)
        self.exit(FAULT, f"{self.prog}: {message}\n")


def instant(text: str) -> datetime:
    """An aware instant such as 2026-11-25T19:00+01:00 or ...Z, in UTC."""
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text!r} is no instant; write 2026-11-25T19:00+01:00 or ...Z") from None
    if moment.tzinfo is None:
        raise argparse.ArgumentTypeError(f"{text!r} has no offset; add Z or an offset such as +01:00")
    return moment.astimezone(UTC)


def parser() -> argparse.ArgumentParser:
    """The program's arguments. `--store`, `--now` and `--json` may stand before or after the verb."""
    common = _Parser(add_help=False, argument_default=argparse.SUPPRESS)
    common.add_argument("--store", type=Path, metavar="FOLDER", help="the collection folder")
    common.add_argument("--now", type=instant, metavar="INSTANT", help="the time it is, such as 2026-11-25T19:00Z")
    common.add_argument("--json", action="store_true", help="one JSON document on stdout")
    top = _Parser("greenhouse-desk", parents=[common], allow_abbrev=False,
                  description="A numbered orchid collection. Without a verb the window opens.")
    verbs = top.add_subparsers(dest="verb", metavar="VERB", required=True)

    def verb(name: str, help: str) -> _Parser:
        return verbs.add_parser(name, help=help, description=help, parents=[common], allow_abbrev=False)

    owing = verb("due", "what is owed, most in need first; with --json soonest first")
    owing.add_argument("-o", "--output", type=Path, metavar="FILE.pdf", help="today's round on paper instead")
    cli_import.arguments(verb("import", "plants in from a CSV list, or a logger's readings of a place's air"))
    giving = verb("export", "plants out to a CSV list")
    giving.add_argument("file", type=Path)
    giving.add_argument("--for-spreadsheets", action="store_true", help="cells that look like formulas made harmless")
    dates = verb("calendar", "care out as an iCalendar file; a second import updates the first")
    dates.add_argument("-o", "--output", type=Path, required=True, metavar="FILE.ics")
    dates.add_argument("--kinds", default="", help="only these, parted by commas, such as root-check,look-again")
    dates.add_argument("--events", action="store_true", help="all-day events, for calendars that show no tasks")
    handing = verb("record", "a plant's record to hand on: words, --json, or with -o a file")
    handing.add_argument("number", type=int)
    handing.add_argument("-o", "--output", type=Path, metavar="FILE", help="a .pdf, .json or .txt")
    handing.add_argument("--private", action="store_true", help="with private notes and remarks")
    cli_labels.arguments(verb("labels", "pot labels as PDF, PNG or SVG"))
    verb("check", "is the collection whole: database, references, photos, your own files")
    verb("backup", "make a backup now")
    verb("restore", "put a backup in the place of the collection").add_argument(
        "name", nargs="?", help="the backup's name; the newest that can be put back when none is given")
    verb("demo", "build an invented collection in an empty folder")
    verb("sources", "every figure the program uses, with its source or mark")
    return top

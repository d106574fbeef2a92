"""The program's entry: reads the arguments, then opens the window or hands a verb to the command line."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Mapping, Sequence
from datetime import datetime
from pathlib import Path

from greenhouse_desk import __version__

SCREENS = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
NO_SCREEN = """There is no screen here: neither DISPLAY nor WAYLAND_DISPLAY is set, so the window cannot open.
A verb needs none, such as: greenhouse-desk --store FOLDER due. To see the window all the same, start it at a desktop.
"""


def instant(text: str) -> datetime:
    """An aware instant from ISO text; for argparse."""
    moment = datetime.fromisoformat(text)
    if moment.tzinfo is None:
        raise argparse.ArgumentTypeError(f"{text} names no time zone: add +00:00 or another offset")
    return moment


def no_screen(environment: Mapping[str, str], platform: str) -> bool:
    """Whether a window cannot open for want of a screen, where that can be told: Qt itself would only abort."""
    return platform not in ("darwin", "win32") and not any(environment.get(name) for name in SCREENS)


def arguments(given: Sequence[str]) -> argparse.Namespace:
    """The options before the verb, and the verb with what follows it."""
    parser = argparse.ArgumentParser(prog="greenhouse-desk", description="A numbered orchid collection: what happened, "
                                     "what is owed, and the bench session. Without a verb the window opens.")
    parser.add_argument("--store", type=Path, metavar="FOLDER", help="the collection's folder")
    parser.add_argument("--now", type=instant, metavar="INSTANT", help="start the clock at this instant (ISO 8601)")
    parser.add_argument("--look", choices=("system", "light", "dark"), help=argparse.SUPPRESS)
    parser.add_argument("--version", action="version", version=__version__)
    parser.add_argument("--json", action="store_true", help="with a verb: one JSON document on stdout")
    parser.add_argument("verb", nargs="?", metavar="VERB", help="due, import, export, labels, calendar, "
                        "record, check, backup, restore, demo, sources")
    parser.add_argument("rest", nargs=argparse.REMAINDER, metavar="...", help="what the verb takes")
    return parser.parse_args(given)


def main(given: Sequence[str] | None = None) -> int:
    """Run the program; returns its exit status."""
    words = list(sys.argv[1:] if given is None else given)
    asked = arguments(words)
    if asked.verb is not None:
        from greenhouse_desk.cli import main as run_verb  # a door: the window loads no command line
        return run_verb(words)
    if asked.json:
        sys.stderr.write("--json goes with a verb, such as due.\n")
        return 2
    if no_screen(os.environ, sys.platform):
        sys.stderr.write(NO_SCREEN)
        return 2
    from greenhouse_desk.ui.first_copy import brought_forward  # a door: a later start loads no more than this
    if brought_forward(asked.store):
        return 0
    from greenhouse_desk.app import run as open_window  # a door: a verb loads no window
    return open_window(asked.store, asked.now, asked.look)


if __name__ == "__main__":
    sys.exit(main())

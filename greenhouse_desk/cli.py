"""The command line: the same services without a window. Faults go to stderr and exit 2."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path
from typing import Any, TypeVar

from platformdirs import user_data_dir

from greenhouse_desk import cli_arguments, cli_import, cli_labels
from greenhouse_desk.cli_arguments import FAULT
from greenhouse_desk.domain.faults import Damaged, Refused
from greenhouse_desk.domain.figures import counted
from greenhouse_desk.domain.paper import Measure, Page
from greenhouse_desk.services import backup, calendar, demo, exchange, owed, photos, plant_record, record_pages, sources
from greenhouse_desk.services.clock import StartedClock, SystemClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.files import ending
from greenhouse_desk.services.round_sheet import pages as round_pages
from greenhouse_desk.services.round_sheet import todays_round
from greenhouse_desk.store.engine import Store, open_store
from greenhouse_desk.store.folder import DATABASE

T = TypeVar("T")
RECORDS, TABLES = (".pdf", ".json", ".txt"), (".csv", ".txt")


@dataclass(frozen=True, slots=True)
class Call:
    """One call of the program: the collection folder, the clock's now, whether JSON was asked for, the rest."""

    folder: Path
    now: datetime
    as_json: bool
    args: argparse.Namespace

    def say(self, plain: Any, words: str) -> None:
        """The answer on stdout: one JSON document, or words."""
        sys.stdout.write((_document(plain) if self.as_json else words) + "\n")


def _document(plain: Any) -> str:
    return json.dumps(plain, ensure_ascii=False, indent=2)


def main(argv: Sequence[str]) -> int:
    """Run one verb; returns the exit code: 0, or 2 when something was refused or is at fault."""
    try:
        args = cli_arguments.parser().parse_args(list(argv))
    except SystemExit as stop:
        return stop.code if isinstance(stop.code, int) else FAULT
    clock = StartedClock(args.now) if getattr(args, "now", None) else SystemClock()
    call = Call(getattr(args, "store", default_folder()), clock.now(), getattr(args, "json", False), args)
    try:
        return DOERS[args.verb](call)
    except Refused as refused:
        parts = (f"{refused.title}.", refused.detail, refused.next_step)
        sys.stderr.write("\n".join(part for part in parts if part) + "\n")
        return FAULT


def default_folder() -> Path:
    """Where the collection lies when no folder is named."""
    return Path(user_data_dir("greenhouse-desk", appauthor=False))


def _on_due(call: Call) -> int:
    """What is owed as JSON or words, or today's round as a PDF."""
    if call.args.output is not None:
        made = _asking(call, lambda desk: desk.read(todays_round, call.now))
        _painted(call.args.output, made.title, lambda measure: round_pages(made, measure))
        stops = sum(len(part.stops) for part in made.parts)
        call.say({"file": str(call.args.output), "plants": stops},
                 f"The {made.title.lower()[:1]}{made.title[1:]} is in {call.args.output}: {counted(stops, 'plant')}.")
        return 0
    rows = _asking(call, lambda desk: desk.read(owed.owed, call.now))
    call.say([row.plain() for row in rows], owed.in_words(rows))
    return 0


def _on_import(call: Call) -> int:
    if call.args.air is not None:
        return _on_air(call)
    listed = exchange.read_or_tell(call.args.file)
    faults = exchange.faults_alone(listed, call.now.date())
    nothing = faults and not call.args.keep_good
    if not (call.folder / DATABASE).exists() and (nothing or not listed.rows):
        done = exchange.Imported(0, 0, faults)
    else:
        done = _importing(call, listed, not nothing)
    sys.stderr.writelines(f"{row.where}: {row.message}\n" for row in done.refused)
    if listed.unknown:
        sys.stderr.write(f"Columns nobody knows, left out: {', '.join(listed.unknown)}.\n")
    words = [f"{done.added} added, {done.changed} changed, {len(done.refused)} refused "
             f"(read with the {listed.delimiter_words} between cells).", *exchange.change_lines(done.changes)]
    if done.refused and not call.args.keep_good:
        others = ", or use --keep-good to take the others" if listed.rows else ""
        words.append(f"Nothing was changed. Mend what is refused{others}.")
    elif not listed.rows and not done.refused:
        words.append("There is no plant below the first line, which names the columns.")
    call.say({"added": done.added, "changed": done.changed, "refused": [asdict(row) for row in done.refused],
              "ignored_columns": list(listed.unknown)}, "\n".join(words))
    return FAULT if done.refused else 0


def _on_air(call: Call) -> int:
    with _opened(call) as store:
        plain, words = cli_import.air(Desk(store, lambda: call.now), call.args.file, call.args.air, call.now)
    call.say(plain, words)
    return 0


def _importing(call: Call, listed: exchange.Listed, keep: bool) -> exchange.Imported:
    """Take the list in, with a backup first where something may change (`keep`)."""
    with _opened(call, create=True) as store:
        desk = Desk(store, lambda: call.now)
        if keep and listed.rows and desk.read(exchange.holds_plants):
            backup.make(store, call.now, before="import")
        return desk.run(exchange.take_in, listed, call.args.keep_good)


def _on_export(call: Call) -> int:
    ending(call.args.file, TABLES, "a list of plants")
    data = _asking(call, lambda desk: desk.read(exchange.plants_out, call.args.for_spreadsheets))
    exchange.write_file(call.args.file, data)
    count = len(exchange.parse_list(data).rows)
    kind = "for spreadsheets" if call.args.for_spreadsheets else "exact"
    call.say({"file": str(call.args.file), "plants": count, "form": kind},
             f"{count} growing plants written to {call.args.file} ({kind}).")
    return 0


def _on_calendar(call: Call) -> int:
    with _opened(call, reading=True) as store:
        made = calendar.to_file(Desk(store, lambda: call.now), call.args.output, calendar.kinds_of(call.args.kinds),
                                call.args.events)
    call.say({"file": str(call.args.output), "entries": made.entries, "cancelled": made.cancelled}, made.words)
    return 0


def _on_record(call: Call) -> int:
    """The record as a file of the kind its ending says, as JSON, or as words; private notes stay out unless asked for.
    """
    output: Path | None = call.args.output
    kind = ending(output, RECORDS, "a record") if output is not None else ""
    told, shown = _asking(call, lambda desk: _recorded(desk, call, kind == ".pdf"))
    if output is not None and kind == ".pdf":
        _painted(output, f"Record of {told.number}", lambda measure: record_pages.pages(told, measure, shown))
    elif output is not None:
        text = _document(told.plain()) if kind == ".json" else plant_record.words(told)
        exchange.write_file(output, f"{text}\n".encode())
    words = f"The record of {told.number} is in {output}. {told.notice}"
    call.say(told.plain(), plant_record.words(told) if output is None else words)
    return 0


def _painted(path: Path, title: str, pages: Callable[[Measure], Sequence[Page]]) -> None:
    """Set and paint pages into a PDF."""
    from greenhouse_desk.ui import paper  # the door to paper: Qt is loaded only when a page is painted

    paper.ready()
    paper.to_pdf(pages(paper.measure), path, title)


def _recorded(desk: Desk, call: Call,
              pictures: bool) -> tuple[plant_record.PlantRecord, Mapping[str, photos.Printable]]:
    told = desk.read(plant_record.plant_record, call.now, call.args.number, call.args.private)
    return told, photos.printable(desk.store.photos, record_pages.wanted(told)) if pictures else {}


def _on_labels(call: Call) -> int:
    """Labels as files; each is written into the journal. A label that cannot be made is told, the others are made."""
    from greenhouse_desk.ui import paper  # the same door

    paper.ready()
    with _opened(call, reading=True) as store:
        cli_labels.must_be_kept(store.read_only, call.args)
        desk = Desk(store, lambda: call.now)
        made = cli_labels.order(desk, call.args, paper.measure)
        sys.stderr.writelines(f"Not made: {words}.\n" for words in made.printed.refusals)
        files = paper.to_files(made.printed.pages, call.args.output, made.title, call.args.dpi)
        if not call.args.no_entry:
            cli_labels.keep(desk, made)
    call.say(made.plain(files), made.words(files))
    return FAULT if made.printed.refused else 0


def _on_check(call: Call) -> int:
    try:
        with _opened(call, reading=True) as store:
            faults = backup.check(store)
    except Damaged as damaged:
        faults = (f"{damaged.title}: {damaged.detail} {damaged.next_step}",)
    for fault in faults:
        sys.stderr.write(fault + "\n")
    said = f"{counted(len(faults), 'fault')}." if faults else "Whole."
    call.say({"ok": not faults, "faults": list(faults)}, said)
    return FAULT if faults else 0


def _on_backup(call: Call) -> int:
    with _opened(call) as store:
        made = backup.make(store, call.now)
    names = [one.name for one in backup.list(call.folder)]
    words = f"Made: {backup.called(made.name)}." if made else "Nothing changed since the last backup; none was made."
    call.say({"made": made.name if made else None, "backups": names}, words)
    return 0


def _on_restore(call: Call) -> int:
    newest = None if call.args.name else backup.latest_good(call.folder)
    if newest is None and not call.args.name:
        raise Refused("There is no sound backup", f"None in {call.folder} passes its check.", "Name another folder.")
    done = backup.restore(call.folder, newest.name if newest else call.args.name, call.now)
    lines = [f"  {line}" for line in backup.lost_lines(done)]
    lost = [f"{backup.photos_words(len(lines))} did not come back:", *lines] if lines else []
    call.say({"restored": done.name, "replaced": done.replaced, "lost_photos": [asdict(one) for one in done.lost]},
             "\n".join([backup.restored_words(done), *lost]))
    return 0


def _on_demo(call: Call) -> int:
    built = demo.build(call.folder, call.now)
    call.say({"plants": built.plants, "benches": built.benches, "entries": built.entries, "pictures": built.pictures},
             f"{built.plants} plants on {built.benches} benches, {built.entries} entries and {built.pictures} pictures "
             f"in {call.folder}.")
    return 0


def _on_sources(call: Call) -> int:
    figures = sources.figures()
    lines = [f"{figure.of}: {figure.figure}  [{figure.source}]" for figure in figures]
    call.say([asdict(figure) for figure in figures], "\n".join(lines))
    return 0


@contextmanager
def _opened(call: Call, create: bool = False, reading: bool = False) -> Iterator[Store]:
    """The store of a call, closed again at the end; one that only reads takes a collection that cannot be written too.
    Raises Refused when it cannot be opened."""
    store = open_store(call.folder, create, f"`greenhouse-desk {call.args.verb}`", reading)
    try:
        yield store
    finally:
        store.close()


def _asking(call: Call, question: Callable[[Desk], T]) -> T:
    with _opened(call, reading=True) as store:
        return question(Desk(store, lambda: call.now))


DOERS: dict[str, Callable[[Call], int]] = {
    "due": _on_due, "import": _on_import, "export": _on_export, "calendar": _on_calendar,
    "labels": _on_labels, "record": _on_record, "check": _on_check, "backup": _on_backup, "restore": _on_restore,
    "demo": _on_demo, "sources": _on_sources,
}

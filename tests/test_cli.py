"""The command line: what it prints, what it writes, and how it fails. Nothing here opens a window."""

from __future__ import annotations

import hashlib
import json
import os
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from greenhouse_desk import cli
from greenhouse_desk.domain.care_day import moment_words
from greenhouse_desk.domain.journal import Cut, Part, Photo, Purpose, Treated
from greenhouse_desk.domain.plants import Place
from greenhouse_desk.services import backup, collection, records
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store import holder
from greenhouse_desk.store.disk import put
from greenhouse_desk.store.engine import open_store
from tests.builders import NOW

AT = ["--now", NOW.isoformat()]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A small collection, closed: 101 has a hold and cut checks, 102 stands nowhere and owes nothing."""
    store = open_store(tmp_path / "plants", create=True)
    desk = Desk(store, lambda: NOW)
    shelf = desk.run(collection.save_place, Place(0, "Long shelf"))
    desk.run(collection.add_plant, NewPlant("Vanda 'Größe'", 101, place=shelf, notes="=1+1"))
    desk.run(collection.add_plant, NewPlant("Stelis gelida", 102))
    wash = Treated("hydrogen-peroxide", Purpose.ROOT_DISINFECTION, (Part.ROOTS,), 3.0, 10.0)
    desk.run(records.add, 101, wash, NOW - timedelta(days=4))
    desk.run(records.add, 101, Cut(Part.SPIKE), NOW - timedelta(days=4))
    store.close()
    return store.folder


def _run(capsys: pytest.CaptureFixture[str], *words: object) -> tuple[int, str, str]:
    code = cli.main([*AT, *map(str, words)])
    said = capsys.readouterr()
    return code, said.out, said.err


def _json(capsys: pytest.CaptureFixture[str], *words: object) -> tuple[int, Any]:
    code, out, _ = _run(capsys, *words, "--json")
    return code, json.loads(out)


def test_due_lists_everything_owed_soonest_first(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, rows = _json(capsys, "--store", folder, "due")
    assert code == 0
    assert {row["kind"] for row in rows} >= {"dress the cut", "cut check", "plain water"}
    assert [set(row) for row in rows] == [{"plant", "name", "place", "kind", "from", "due", "latest", "what", "why"}
                                          ] * len(rows)
    days = [date.fromisoformat(row["due"][:10]) for row in rows]
    assert days == sorted(days)
    assert max(days) <= NOW.date() + timedelta(days=14)
    assert all(isinstance(row["plant"], int) and isinstance(row["why"], str) and row["why"] for row in rows)
    hold = next(row for row in rows if row["kind"] == "plain water")
    assert (hold["plant"], hold["name"], hold["place"], hold["due"]) == (
        101, "Vanda 'Größe'", "Long shelf", "2026-11-28")


def test_due_without_json_is_words(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = _run(capsys, "--store", folder, "due")
    assert (code, err) == (0, "")
    assert "plain water until 28 Nov" in out
    rows = [line for line in out.splitlines() if line.startswith("    101")]
    assert out.count("because: ") == len(rows) > 2, "each row answers why"


def test_due_in_words_stands_under_the_strips_headings_in_columns(folder: Path,
                                                                  capsys: pytest.CaptureFixture[str]) -> None:
    out = _run(capsys, "--store", folder, "due")[1].splitlines()
    assert out[0].endswith("owed to 1 plant, most in need first.")
    heads = [line for line in out if line and not line.startswith(" ")][1:]
    assert heads[0] == "Now (wet, bare, open or late)"
    assert heads[-1] == "Holds (what must not be given)"
    assert "dress the cut" in out[out.index(heads[0]) + 1]
    assert len({line.index("Long shelf") for line in out if "Long shelf" in line}) == 1, "one column"


def test_due_on_paper(qapp: object, folder: Path, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    code, told = _json(capsys, "--store", folder, "due", "-o", tmp_path / "round.pdf")
    assert (code, told) == (0, {"file": str(tmp_path / "round.pdf"), "plants": 1})
    text = " ".join(PdfReader(tmp_path / "round.pdf").pages[0].extract_text().split())
    assert "Round of 18 Nov 2026" in text
    assert "101" in text
    assert "dress the cut" in text
    assert "102" not in text


def test_options_may_stand_before_or_after_the_verb(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = _run(capsys, "--json", "--store", folder, "due")
    after = _run(capsys, "due", "--json", "--store", folder)
    assert before == after


@pytest.mark.parametrize("words", [["due", "--bogus"], ["water"], [], ["import"], ["due", "--now", "soon"],
                                   ["due", "--now", "2026-11-18T15:30"], ["--st", "x", "due"]])
def test_what_is_not_understood_exits_2(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = _run(capsys, *words)
    assert (code, out) == (2, "")
    assert err


def test_a_collection_that_is_not_there_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for verb in ("due", "check", "backup"):
        code, out, err = _run(capsys, "--store", tmp_path / "none", verb, "--json")
        assert (code, out) == (2, "")
        assert "No collection" in err
        assert "import" in err, "a way to begin one that works from here"
    assert not (tmp_path / "none").exists()


def test_import_creates_the_folder_and_counts_first(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    list_file = tmp_path / "list.csv"
    list_file.write_text("number,name,place\n7,Vanda,Sill\n8,Stelis,Sill\n", "utf-8")
    code, done = _json(capsys, "--store", tmp_path / "new", "import", list_file)
    assert (code, done) == (0, {"added": 2, "changed": 0, "refused": [], "ignored_columns": []})
    assert list(done)[:3] == ["added", "changed", "refused"]
    assert _json(capsys, "--store", tmp_path / "new", "import", list_file)[1]["changed"] == 0


def test_refused_rows_exit_2_with_the_json_and_change_nothing(tmp_path: Path,
                                                              capsys: pytest.CaptureFixture[str]) -> None:
    list_file = tmp_path / "list.csv"
    list_file.write_text("number,name,acquired\n7,Vanda,03/04/2025\n8,Stelis,\n", "utf-8")
    code, done = _json(capsys, "--store", tmp_path / "new", "import", list_file)
    assert (code, done["added"], len(done["refused"])) == (2, 0, 1)
    assert {key: done["refused"][0][key] for key in ("line", "column")} == {"line": 2, "column": "acquired"}
    assert not (tmp_path / "new").exists()
    code, done = _json(capsys, "--store", tmp_path / "new", "import", list_file, "--keep-good")
    assert (code, done["added"], len(done["refused"])) == (2, 1, 1)


def test_import_says_what_it_changed_plant_by_plant(folder: Path, tmp_path: Path,
                                                    capsys: pytest.CaptureFixture[str]) -> None:
    list_file = tmp_path / "list.csv"
    list_file.write_text(f"number,name,medium,notes\n101,Vanda 'Größe',bark,{'long ' * 20}\n102,Stelis,,\n", "utf-8")
    code, out, _ = _run(capsys, "--store", folder, "import", list_file)
    assert code == 0
    assert out.splitlines() == [
        "0 added, 2 changed, 0 refused (read with the comma between cells).",
        "  101: medium nothing -> bark; notes =1+1 -> long long long long long long long lo...",
        "  102: name Stelis gelida -> Stelis"]


def test_import_keeps_a_backup_of_what_was_there(folder: Path, tmp_path: Path,
                                                 capsys: pytest.CaptureFixture[str]) -> None:
    list_file = tmp_path / "list.csv"
    list_file.write_text("number,name,colour\n7,Vanda,red\n", "utf-8")
    code, out, err = _run(capsys, "--store", folder, "import", list_file)
    assert (code, "1 added" in out, "colour" in err) == (0, True, True)
    assert any("before-import" in path.name for path in (folder / "backups").iterdir())


def test_columns_that_were_left_out_stand_in_the_json_too(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    list_file = tmp_path / "list.csv"
    list_file.write_text("number,name,colour,\n7,Vanda,red,\n", "utf-8")
    code, done = _json(capsys, "--store", tmp_path / "new", "import", list_file)
    assert (code, done["ignored_columns"]) == (0, ["colour", "column 4, without a name"])


@pytest.mark.parametrize(("text", "code", "says"), [
    ("number,name\n", 0, "no plant below the first line"), ("name\nVanda\n", 2, "Mend what is refused."),
    ("number,name\n7,Vanda\n-7,Disa\n", 2, "or use --keep-good to take the others.")])
def test_the_last_line_says_what_can_be_done(tmp_path: Path, capsys: pytest.CaptureFixture[str], text: str, code: int,
                                             says: str) -> None:
    """--keep-good is offered only where there is something good to keep."""
    list_file = tmp_path / "list.csv"
    list_file.write_text(text, "utf-8")
    done, out, _ = _run(capsys, "--store", tmp_path / "new", "import", list_file)
    assert done == code
    assert says in out.splitlines()[-1]
    assert not (tmp_path / "new").exists()


def test_export_in_both_forms(folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    exact, safe = tmp_path / "exact.csv", tmp_path / "safe.csv"
    assert _json(capsys, "--store", folder, "export", exact)[1]["plants"] == 2
    assert _run(capsys, "--store", folder, "export", safe, "--for-spreadsheets")[0] == 0
    assert "101,Vanda 'Größe',Long shelf,,,,=1+1\r\n" in exact.read_bytes().decode("utf-8")
    assert "101,Vanda 'Größe',Long shelf,,,,'=1+1\r\n" in safe.read_bytes().decode("utf-8-sig")


def test_check_finds_a_lost_photo(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert _json(capsys, "--store", folder, "check") == (0, {"ok": True, "faults": []})
    store = open_store(folder)
    Desk(store, lambda: NOW).run(records.add, 101, Photo("ab" * 32, "gone.jpg"))
    store.close()
    code, out, err = _run(capsys, "--store", folder, "check", "--json")
    told = json.loads(out)
    assert (code, told["ok"], len(told["faults"])) == (2, False, 1)
    assert err.strip() == told["faults"][0]


def test_a_backup_can_be_put_back(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, made = _json(capsys, "--store", folder, "backup")
    assert code == 0
    store = open_store(folder)
    Desk(store, lambda: NOW).run(collection.add_plant, NewPlant("Disa", 300))
    store.close()
    code, done = _json(capsys, "--store", folder, "restore")
    assert (code, done["restored"]) == (0, made["made"])
    store = open_store(folder)
    assert Desk(store, lambda: NOW).read(collection.find, "300") == ()
    store.close()


def test_restore_takes_the_newest_though_a_photo_is_lost_and_names_that(
        folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The older one lacks nothing, and would take the journal since then back."""
    _run(capsys, "--store", folder, "backup")
    store = open_store(folder)
    data = b"a picture"
    sha256 = hashlib.sha256(data).hexdigest()
    put(folder / "photos" / sha256[:2] / sha256, data)
    Desk(store, lambda: NOW).run(records.add, 101, Photo(sha256, "spike.jpg"))
    store.close()
    later = (NOW + timedelta(hours=1)).isoformat()
    newer = _json(capsys, "--store", folder, "backup", "--now", later)[1]["made"]
    for place in (folder / "photos", folder / "backups" / "photos"):
        (place / sha256[:2] / sha256).unlink()
    code, done = _json(capsys, "--store", folder, "restore")
    assert (code, done["restored"]) == (0, newer)
    assert [{key: one[key] for key in ("plant", "name", "sha256")} for one in done["lost_photos"]] == [
        {"plant": 101, "name": "spike.jpg", "sha256": sha256}]
    code, out, _ = _run(capsys, "--store", folder, "restore", newer)
    assert code == 0
    assert out.splitlines()[1:] == ["1 photo did not come back:", "  plant 101: spike.jpg, 2026-11-18"]


def test_a_backup_is_told_by_its_moment_and_one_that_is_not_there_by_those_that_are(
        folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = _run(capsys, "--store", folder, "backup")[1]
    assert out.startswith(f"Made: the backup of {moment_words(NOW, None)} (")
    code, out, err = _run(capsys, "--store", folder, "restore", "yesterday")
    assert (code, out) == (2, "")
    assert err.startswith(f"There is no backup yesterday.\nThere is the backup of {moment_words(NOW, None)} (")


def test_restore_without_a_backup_is_refused(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = _run(capsys, "--store", folder, "restore")
    assert (code, out) == (2, "")
    assert "no sound backup" in err


@pytest.mark.parametrize("as_json", [[], ["--json"]])
@pytest.mark.parametrize("verb", [["due"], ["check"], ["backup"], ["export", "x.csv"], ["record", "101"],
                                  ["calendar", "-o", "x.ics"], ["import", "list.csv"]], ids=lambda verb: verb[0])
def test_a_collection_the_window_holds_is_told_with_who_has_it_and_what_to_do(
        folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, verb: list[str],
        as_json: list[str]) -> None:
    monkeypatch.chdir(folder.parent)
    Path("list.csv").write_text("number,name\n7,Vanda\n", "utf-8")
    store = open_store(folder, who=holder.WINDOW)
    try:
        code, out, err = _run(capsys, "--store", folder, *verb, *as_json)
    finally:
        store.close()
    assert (code, out) == (2, "")
    assert f"{folder} is open in the window (process {os.getpid()})" in err
    assert err.endswith("Use that window, or close it, then try again.\n")


def test_a_verb_that_holds_the_collection_gives_its_name(folder: Path, capsys: pytest.CaptureFixture[str],
                                                         monkeypatch: pytest.MonkeyPatch) -> None:
    """As a long import would be met by another command."""
    met: list[str] = []

    def meet(*_given: object) -> tuple[str, ...]:
        met.append(_run(capsys, "--store", folder, "due")[2])
        return ()

    monkeypatch.setattr(backup, "check", meet)
    assert _run(capsys, "--store", folder, "check")[0] == 0
    assert "is open in `greenhouse-desk check` (process" in met[0]
    assert "Wait until that has ended, then try again." in met[0]


def test_every_source_is_named(capsys: pytest.CaptureFixture[str]) -> None:
    code, figures = _json(capsys, "sources")
    assert (code, len(figures) > 40) == (0, True)
    assert [figure for figure in figures if not figure["source"].strip()] == []


def test_a_damaged_collection_is_checked_in_one_document(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "collection.db").write_bytes(b"no database at all" * 500)
    assert cli.main([*AT, "--store", str(tmp_path), "check", "--json"]) == 2
    told = json.loads(capsys.readouterr().out)
    assert told["ok"] is False
    assert len(told["faults"]) == 1

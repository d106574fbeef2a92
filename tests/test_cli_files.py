"""The command line's files: endings that are kept, lists with every fault told, one JSON document or none."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from greenhouse_desk import cli
from greenhouse_desk.services import collection
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store.engine import open_store
from tests.builders import NOW

pytestmark = pytest.mark.usefixtures("qapp")  # pages are painted in this process, by the one application of the tests


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A collection of one plant, closed."""
    store = open_store(tmp_path / "plants", create=True)
    Desk(store, lambda: NOW).run(collection.add_plant, NewPlant("Vanda", 101, medium="bark"))
    store.close()
    return store.folder


def _run(capsys: pytest.CaptureFixture[str], *words: object) -> tuple[int, str, str]:
    code = cli.main(["--now", NOW.isoformat(), *map(str, words)])
    said = capsys.readouterr()
    return code, said.out, said.err


def _json(capsys: pytest.CaptureFixture[str], *words: object) -> tuple[int, Any]:
    code, out, _ = _run(capsys, *words, "--json")
    return code, json.loads(out)


def test_import_tells_of_a_file_that_is_not_there_as_of_every_other_fault(
        tmp_path: Path, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for store in (tmp_path / "new", folder):
        code, out, err = _run(capsys, "--store", store, "import", tmp_path / "none.csv", "--json")
        told = json.loads(out)
        assert (code, told["added"], told["refused"][0]["line"]) == (2, 0, None)
        assert "none.csv" in told["refused"][0]["message"]
        assert told["refused"][0]["message"] in err
    assert not (tmp_path / "new").exists()


def test_faults_of_an_import_go_to_stderr_all_in_one_round(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    list_file = tmp_path / "list.csv"
    list_file.write_text("number,name,acquired\n7,Vanda,soon\n7,Stelis,2999-01-01\n", "utf-8")
    code, out, err = _run(capsys, "--store", tmp_path / "new", "import", list_file)
    assert (code, out.splitlines()[0]) == (2, "0 added, 0 changed, 4 refused (read with the comma between cells).")
    assert [line.partition(":")[0] for line in err.splitlines()] == [
        "line 2, acquired", "line 2, number", "line 3, number", "line 3, acquired"]


GIVEN = {"due": [], "export": ["x.csv"], "record": ["101", "-o", "x.json"], "check": [], "backup": [], "restore": [],
         "calendar": ["-o", "x.ics"], "labels": ["-o", "x.svg", "--plants", "101"], "import": ["list.csv"]}


@pytest.mark.parametrize("verb", GIVEN)
def test_every_verb_answers_json_with_one_document_or_refuses_on_stderr_alone(
        folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, verb: str) -> None:
    monkeypatch.chdir(folder.parent)
    Path("list.csv").write_text("number,name\n101,Vanda\n", "utf-8")
    _run(capsys, "--store", folder, "backup")
    code, out, err = _run(capsys, "--store", folder, verb, *GIVEN[verb], "--json")
    assert (code, err) == (0, "")
    json.loads(out)
    (folder / "collection.db").rename(folder / "gone.db")
    (folder / "collection.db").mkdir()
    code, out, err = _run(capsys, "--store", folder, verb, *GIVEN[verb], "--json")
    assert (code, "Traceback" in err, bool(err)) == (2, False, True)
    assert out == "" or verb == "check"


@pytest.mark.parametrize(("words", "known"), [
    (["record", "101", "-o", "x.docx"], ".pdf, .json or .txt"), (["record", "101", "-o", "x"], ".pdf, .json or .txt"),
    (["export", "x.xlsx"], ".csv or .txt"), (["calendar", "-o", "x.pdf"], ".ics"),
    (["labels", "-o", "x.json"], ".pdf, .png or .svg")])
def test_a_file_is_never_of_another_kind_than_its_name_says(
        folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, words: list[str],
        known: str) -> None:
    monkeypatch.chdir(folder.parent)
    code, out, err = _run(capsys, "--store", folder, *words)
    assert (code, out) == (2, "")
    assert f"End the name in {known}." in err
    assert not list(Path().glob("x*"))


def test_a_record_is_written_as_its_ending_says(folder: Path, tmp_path: Path,
                                                capsys: pytest.CaptureFixture[str]) -> None:
    for name in ("r.json", "r.TXT", "r.pdf"):
        assert _run(capsys, "--store", folder, "record", "101", "-o", tmp_path / name)[0] == 0
    plain = _json(capsys, "--store", folder, "record", "101")[1]
    assert json.loads((tmp_path / "r.json").read_text("utf-8")) == plain
    assert (tmp_path / "r.TXT").read_text("utf-8") == _run(capsys, "--store", folder, "record", "101")[1]
    assert (tmp_path / "r.pdf").read_bytes().startswith(b"%PDF")

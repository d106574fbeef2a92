"""Bringing older collections up to date: the first schema is the models', and every known trap is stepped around."""

from __future__ import annotations

import re
import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest
from sqlalchemy import create_engine
from sqlalchemy.pool import StaticPool

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store import backup, engine, journal, migrate
from greenhouse_desk.store.folder import DATABASE, SCHEMA
from greenhouse_desk.store.tables import Table
from tests.store.test_undo import note

HEAD = '"""A step."""\nfrom alembic import op\nimport sqlalchemy as sa\nrevision = "{:04}"\ndown_revision = "{:04}"\n'
REBUILD_DEED = """
def upgrade():
    with op.batch_alter_table("plant", recreate="always") as batch:
        batch.add_column(sa.Column("colour", sa.Text, nullable=False, server_default=""))
"""


def schema(raw: sqlite3.Connection) -> set[tuple[str, str, str]]:
    """Every object and the statement that makes it, in one spelling of spaces."""
    rows = raw.execute("SELECT type, name, sql FROM sqlite_master WHERE sql IS NOT NULL AND name <> 'sqlite_sequence'")
    return {(kind, name, re.sub(r"\s*([(),])\s*", r"\1", " ".join(sql.split()))) for kind, name, sql in rows}


def bare(path: Path) -> sqlite3.Connection:
    return sqlite3.connect(path, isolation_level=None)


def test_models_match_migrations(tmp_path: Path) -> None:
    with closing(bare(tmp_path / "models.db")) as models, closing(bare(tmp_path / "steps.db")) as stepped:
        Table.metadata.create_all(create_engine("sqlite://", creator=lambda: models, poolclass=StaticPool))
        upgrade(stepped, 0, SCHEMA, migrate.VERSIONS)
        assert schema(stepped) == schema(models)
        assert stepped.execute("PRAGMA user_version").fetchone() == (SCHEMA,)
        assert len(schema(models)) > 12


def test_the_steps_import_nothing_of_ours() -> None:
    for step in migrate.VERSIONS.glob("*.py"):
        assert "greenhouse_desk" not in step.read_text(encoding="utf-8"), step


def upgrade(raw: sqlite3.Connection, start: int, goal: int, versions: Path) -> None:
    migrate.upgrade(engine._engine(Path("unused"), raw), raw, start, goal, versions)


@pytest.fixture
def later(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[str], None]:
    """Makes this program one that knows a later schema, reached by the step with this body."""
    def teach(body: str) -> None:
        versions = tmp_path / "later" / "versions"
        shutil.copytree(migrate.VERSIONS, versions, ignore=shutil.ignore_patterns("__pycache__"))
        (versions / f"schema_{SCHEMA + 1:04}.py").write_text(HEAD.format(SCHEMA + 1, SCHEMA) + body, encoding="utf-8")
        monkeypatch.setattr(migrate, "VERSIONS", versions)
        monkeypatch.setattr(engine, "SCHEMA", SCHEMA + 1)
    return teach


def filled(desk: Desk) -> Path:
    """A closed collection with a plant and a journal that refers to it."""
    raw = desk.store.raw
    raw.execute("INSERT INTO plant (number, name, habit, notes) VALUES (101, 'Vanda tricolor', 'unknown', '')")
    desk.run(note, "kept")
    raw.execute("UPDATE entry SET plant = 101")
    desk.store.close()
    return desk.store.folder


def test_an_older_collection_is_copied_aside_and_brought_up_to_date(
        desk: Desk, later: Callable[[str], None], reopened: Callable[[], Desk]) -> None:
    """The rebuilt table has others that refer to it: with foreign keys on, that would fail or empty them."""
    folder = filled(desk)
    later(REBUILD_DEED)
    again = reopened()
    raw = again.store.raw
    assert raw.execute("PRAGMA user_version").fetchone() == (SCHEMA + 1,)
    assert raw.execute("PRAGMA foreign_keys").fetchone() == (1,)
    assert raw.execute("SELECT number, colour FROM plant").fetchall() == [(101, "")]
    assert [entry.plant for entry in again.read(journal.everything)] == [101]
    assert again.next_undo() is None, "images of the old schema do not fit the new"
    with closing(bare(folder / "backups" / f"schema-{SCHEMA}-before-update-1.db")) as copy:
        assert copy.execute("PRAGMA user_version").fetchone() == (SCHEMA,)
        assert copy.execute("SELECT count(*) FROM entry").fetchone() == (1,)
        assert copy.execute("PRAGMA quick_check").fetchone() == ("ok",)


@pytest.mark.parametrize(("body", "words"), [
    ("def upgrade():\n    op.execute(\"DELETE FROM entry\")\n", "entry: 1 rows before, 0 after"),
    ("def upgrade():\n    op.execute(\"UPDATE entry SET plant = 999\")\n", "entry row 1 refers to a missing plant")])
def test_a_step_that_loses_rows_or_references_is_refused_whole(
        desk: Desk, later: Callable[[str], None], body: str, words: str) -> None:
    folder = filled(desk)
    later(body)
    with pytest.raises(Refused, match="could not be brought up to date") as caught:
        engine.open_store(folder)
    assert words in caught.value.detail
    assert unchanged(folder)


def test_a_step_that_stops_in_the_middle_takes_its_tables_back(desk: Desk, later: Callable[[str], None]) -> None:
    """SQLite rolls a new table back only inside a real BEGIN."""
    folder = filled(desk)
    later("def upgrade():\n    op.create_table('half', sa.Column('x', sa.Integer))\n    raise ZeroDivisionError\n")
    with pytest.raises(ZeroDivisionError):
        engine.open_store(folder)
    assert unchanged(folder)


def test_a_step_may_say_which_tables_it_resizes(desk: Desk, later: Callable[[str], None],
                                                reopened: Callable[[], Desk]) -> None:
    filled(desk)
    later("RESIZES = ('entry',)\ndef upgrade():\n    op.execute(\"DELETE FROM entry\")\n")
    assert reopened().read(journal.everything) == ()


def test_copies_aside_never_overwrite_each_other(desk: Desk) -> None:
    names = [migrate.copy_aside(desk.store.raw, desk.store.folder, 1).name for _ in range(2)]
    assert names == ["schema-1-before-update-1.db", "schema-1-before-update-2.db"]


def unchanged(folder: Path) -> bool:
    with closing(bare(folder / DATABASE)) as raw:
        tables = {name for (name,) in raw.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
        return (raw.execute("PRAGMA user_version").fetchone() == (SCHEMA,) and "half" not in tables
                and raw.execute("SELECT plant FROM entry").fetchall() == [(101,)])


def test_a_copy_aside_that_fails_its_check_stops_the_update(
        desk: Desk, later: Callable[[str], None], monkeypatch: pytest.MonkeyPatch) -> None:
    folder = filled(desk)
    later(REBUILD_DEED)
    monkeypatch.setattr(backup, "database_faults", lambda _path: ("page 3 is torn",))
    with pytest.raises(Refused, match="page 3 is torn"):
        engine.open_store(folder)
    assert unchanged(folder)
    assert list((folder / "backups").iterdir()) == []

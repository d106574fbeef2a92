"""The tables. The journal (`entry`) is the truth; plants' places, pottings and statuses are read out of it."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from typing import Any, ClassVar

from sqlalchemy import CheckConstraint, Dialect, ForeignKey, Index, MetaData, Text, TypeDecorator
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column

NAMING = {
    "ix": "ix_%(column_0_label)s",
    "uq": "uq_%(table_name)s_%(column_0_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}
INSTANT_FORMAT = "%Y-%m-%dT%H:%M:%S.%fZ"


class Instant(TypeDecorator[datetime]):
    """An aware UTC datetime kept as fixed-width ISO text, so that text order is time order."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> str | None:
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError(f"a naive instant cannot be stored: {value!r}")
        return value.astimezone(UTC).strftime(INSTANT_FORMAT)

    def process_result_value(self, value: str | None, dialect: Dialect) -> datetime | None:
        return None if value is None else datetime.fromisoformat(value)


class Json(TypeDecorator[Any]):
    """Plain values kept as compact JSON text with sorted keys."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: Any, dialect: Dialect) -> str:
        return json.dumps(value, sort_keys=True, ensure_ascii=False, separators=(",", ":"), allow_nan=False)

    def process_result_value(self, value: str | None, dialect: Dialect) -> Any:
        return None if value is None else json.loads(value)


class Table(DeclarativeBase):
    metadata = MetaData(naming_convention=NAMING)
    type_annotation_map: ClassVar = {datetime: Instant, dict[str, Any]: Json, list[Any]: Json}


class PlaceRow(Table):
    __tablename__ = "place"
    id: Mapped[int] = mapped_column(primary_key=True)
    name: Mapped[str]
    parent: Mapped[int | None] = mapped_column(ForeignKey("place.id", ondelete="RESTRICT"))
    position: Mapped[float] = mapped_column(default=0.0)
    isolation: Mapped[bool] = mapped_column(default=False)
    bench: Mapped[bool] = mapped_column(default=True)
    lights_out: Mapped[str | None]
    __table_args__ = (CheckConstraint("parent <> id", name="not_own_parent"),
                      CheckConstraint("length(name) > 0", name="named"))


class SourceRow(Table):
    __tablename__ = "source"
    id: Mapped[int] = mapped_column(primary_key=True)
    name: Mapped[str] = mapped_column(unique=True)
    notes: Mapped[str] = mapped_column(default="")


class PlantRow(Table):
    __tablename__ = "plant"
    number: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    name: Mapped[str]
    habit: Mapped[str] = mapped_column(default="unknown")
    notes: Mapped[str] = mapped_column(default="")
    __table_args__ = (CheckConstraint("number > 0", name="positive"), CheckConstraint("length(name) > 0", name="named"),
                      CheckConstraint("habit IN ('monopodial', 'sympodial', 'unknown')", name="habit"))


class SessionRow(Table):
    """A sitting at the bench."""

    __tablename__ = "bench_session"
    id: Mapped[int] = mapped_column(primary_key=True)
    started_at: Mapped[datetime]
    ended_at: Mapped[datetime | None]
    left_at: Mapped[datetime | None]
    loose_ends: Mapped[list[Any]] = mapped_column(default=list)


class RunRow(Table):
    """One protocol run on one plant in a session; the steps below it are copies."""

    __tablename__ = "run"
    id: Mapped[int] = mapped_column(primary_key=True)
    session: Mapped[int] = mapped_column(ForeignKey("bench_session.id", ondelete="RESTRICT"))
    plant: Mapped[int] = mapped_column(ForeignKey("plant.number", ondelete="RESTRICT"))
    protocol: Mapped[str]
    title: Mapped[str]
    position: Mapped[float] = mapped_column(default=0.0)
    standing: Mapped[str] = mapped_column(default="clear")
    standing_why: Mapped[str] = mapped_column(default="")


class RunStepRow(Table):
    __tablename__ = "run_step"
    id: Mapped[int] = mapped_column(primary_key=True)
    run: Mapped[int] = mapped_column(ForeignKey("run.id", ondelete="RESTRICT"), index=True)
    ordinal: Mapped[int]
    step: Mapped[dict[str, Any]]
    state: Mapped[str] = mapped_column(default="open")
    done_at: Mapped[datetime | None]
    found: Mapped[list[Any]] = mapped_column(default=list)
    __table_args__ = (CheckConstraint("state IN ('open', 'soaking', 'done', 'skipped')", name="state"),)


class SoakRow(Table):
    """A contact time: stored as start, least and most, so that it goes on through a crash."""

    __tablename__ = "soak"
    id: Mapped[int] = mapped_column(primary_key=True)
    session: Mapped[int] = mapped_column(ForeignKey("bench_session.id", ondelete="RESTRICT"), index=True)
    run: Mapped[int | None] = mapped_column(ForeignKey("run.id", ondelete="RESTRICT"))
    step: Mapped[int | None] = mapped_column(ForeignKey("run_step.id", ondelete="RESTRICT"))
    tool: Mapped[str] = mapped_column(default="")
    what: Mapped[str]
    agent: Mapped[str] = mapped_column(default="")
    started_at: Mapped[datetime]
    least_s: Mapped[float]
    most_s: Mapped[float]
    ended_at: Mapped[datetime | None]
    early: Mapped[bool] = mapped_column(default=False)
    boot: Mapped[str] = mapped_column(default="")
    boot_s: Mapped[float] = mapped_column(default=0.0)
    __table_args__ = (CheckConstraint("least_s >= 0 AND most_s >= least_s", name="window"),)


class ToolUseRow(Table):
    """A tool taken to a plant; it stays unclean for the next until a soak of that tool is over."""

    __tablename__ = "tool_use"
    id: Mapped[int] = mapped_column(primary_key=True)
    session: Mapped[int] = mapped_column(ForeignKey("bench_session.id", ondelete="RESTRICT"), index=True)
    tool: Mapped[str]
    plant: Mapped[int] = mapped_column(ForeignKey("plant.number", ondelete="RESTRICT"))
    at: Mapped[datetime]


class EntryRow(Table):
    """The journal."""

    __tablename__ = "entry"
    id: Mapped[int] = mapped_column(primary_key=True)
    at: Mapped[datetime]
    kind: Mapped[str]
    plant: Mapped[int | None] = mapped_column(ForeignKey("plant.number", ondelete="RESTRICT"))
    place: Mapped[int | None] = mapped_column(ForeignKey("place.id", ondelete="RESTRICT"))
    facts: Mapped[dict[str, Any]]
    note: Mapped[str] = mapped_column(default="")
    run: Mapped[int | None] = mapped_column(ForeignKey("run.id", ondelete="RESTRICT"))
    step: Mapped[int | None] = mapped_column(ForeignKey("run_step.id", ondelete="RESTRICT"), index=True)
    __table_args__ = (Index("ix_entry_plant_at", "plant", "at"), Index("ix_entry_kind_at", "kind", "at"),
                      Index("ix_entry_place_at", "place", "at"), {"sqlite_autoincrement": True})


class AirReadingRow(Table):
    """A logger's readings at a place on one day (UTC), packed into texts (store/air_blocks.py): so a year is small, and
    what undo keeps of it too."""

    __tablename__ = "air_reading"
    place: Mapped[int] = mapped_column(ForeignKey("place.id", ondelete="RESTRICT"), primary_key=True)
    day: Mapped[str] = mapped_column(primary_key=True)
    readings: Mapped[int]
    packed: Mapped[str]
    halves: Mapped[str]
    __table_args__ = (CheckConstraint("readings > 0", name="some"),)


class AirImportRow(Table):
    """A logger's file that was taken in."""

    __tablename__ = "air_import"
    id: Mapped[int] = mapped_column(primary_key=True)
    place: Mapped[int] = mapped_column(ForeignKey("place.id", ondelete="RESTRICT"), index=True)
    file: Mapped[str]
    at: Mapped[datetime]
    first: Mapped[datetime]
    last: Mapped[datetime]
    added: Mapped[int]
    changed: Mapped[int]


class RuleRow(Table):
    """House rules and the home's position, by name."""

    __tablename__ = "house"
    name: Mapped[str] = mapped_column(primary_key=True)
    value: Mapped[Any] = mapped_column(Json)


class DeedRow(Table):
    """What the grower did, by its label, for undo and redo; `undone` deeds wait for redo until the next new deed."""

    __tablename__ = "deed"
    id: Mapped[int] = mapped_column(primary_key=True)
    label: Mapped[str]
    at: Mapped[datetime]
    kinds: Mapped[list[Any]] = mapped_column(default=list)
    undone: Mapped[bool] = mapped_column(default=False)
    __table_args__ = ({"sqlite_autoincrement": True},)


class DeedChangeRow(Table):
    """The row images that take a deed back, recorded by triggers (store/undo.py): `key` finds the row to change, none
    for one to put back; `image` is what it held, none for one to delete. Both are JSON lists, columns in table order.
    """

    __tablename__ = "deed_change"
    id: Mapped[int] = mapped_column(primary_key=True)
    deed: Mapped[int] = mapped_column(ForeignKey("deed.id", ondelete="CASCADE"), index=True)
    subject: Mapped[str]
    key: Mapped[str | None] = mapped_column(Text)
    image: Mapped[str | None] = mapped_column(Text)
    __table_args__ = (CheckConstraint("key IS NOT NULL OR image IS NOT NULL", name="says_something"),)

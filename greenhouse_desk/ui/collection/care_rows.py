"""What is owed as a list: a model of cares under their turns, and how headings and cares are painted."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo

from PySide6.QtCore import Qt

from greenhouse_desk.domain.care import Care, CareWords, Turn, put_off_words
from greenhouse_desk.domain.care import words as care_words
from greenhouse_desk.domain.care_day import care_day, day_of
from greenhouse_desk.domain.care_turns import HEADINGS, HELP
from greenhouse_desk.domain.names import BotanicalName
from greenhouse_desk.domain.sentences import capital
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.ui import words
from greenhouse_desk.ui.rows import SPOKEN, RowsModel

FOLDING = (Turn.LATER, Turn.HOLD)
"""Turns that ask for no hands soon: folded until they are opened."""


@dataclass(frozen=True, slots=True)
class Stand:
    """What the strip needs of a plant besides its care: its name and, in short, where it stands."""

    name: BotanicalName
    place: str = ""


@dataclass(frozen=True, slots=True)
class Heading:
    """A turn over its cares: how many, and whether they are folded away (None: it does not fold)."""

    turn: Turn
    count: int
    folded: bool | None = None

    @property
    def word(self) -> str:
        return HEADINGS[self.turn]

    @property
    def told(self) -> str:
        return HELP.get(self.turn, "")

    @property
    def spoken(self) -> str:
        fold = {None: "", True: ", folded: press to show", False: ", press to fold"}[self.folded]
        return f"{self.word}, {words.counted(self.count, 'thing')}{f', {self.told}' if self.told else ''}{fold}"


@dataclass(frozen=True, slots=True)
class CareRow:
    """One care: its mark, when ("today", "1 day over"), what, what else is told, what in few words, and because."""

    care: Care
    name: BotanicalName
    mark: str
    when: str
    what: str
    more: str
    brief: str = ""
    place: str = ""
    because: str = ""
    put_off: str = ""

    @property
    def last(self) -> str:
        """The strip's last line: that it was put off, else why it is owed."""
        return self.put_off or self.because


def row_of(care: Care, stand: Stand, now: datetime, zone: tzinfo, rules: HouseRules | None = None) -> CareRow:
    """A care as the strip and the drawer tell it at `now`, in a house of these rules."""
    rules = rules or HouseRules()
    told: CareWords = care_words(care, now, zone, rules)
    what, _, more = care.what.partition(": ")
    brief = capital(care.short)
    if care.drying is not None:
        brief = "Blot, then air until dry" if care.drying.pool else "Air until dry"
        brief = f"After the rinse: {brief[:1].lower()}{brief[1:]}" if care.drying.after_rinse else brief
    return CareRow(care, stand.name, told.mark, when(care, told, now, zone, rules), what, capital(more),
                   brief, stand.place, because(care), capital(put_off_words(care, now, zone, rules)))


def because(care: Care) -> str:
    """The reason in few words: what the journal tells, without its remark."""
    return care.why[0].text.partition(" (")[0].rstrip(".")


def when(care: Care, told: CareWords, now: datetime, zone: tzinfo, rules: HouseRules) -> str:
    """When it is owed, in a word or two, by care days: until the day ends, it is still today."""
    today = care_day(now, zone, rules)
    due, latest = day_of(care.due, zone, rules), day_of(care.latest or care.due, zone, rules)
    if care.drying is not None:
        return told.text
    if told.mark == "hold":
        return f"until {words.day(due, today)}"
    if told.mark == "over":
        late = today - latest
        return f"{words.counted(late.days, 'day')} over" if late > timedelta() else "over"
    if due > today:
        return "tomorrow" if told.mark == "tomorrow" else words.day(due, today)
    if latest <= today:
        return "today"
    by = "tomorrow" if latest == today + timedelta(days=1) else words.day(latest, today)
    return f"today, or by {by}" if told.mark == "today" else f"by {by}"


Row = Heading | CareRow
Turns = Sequence[tuple[Turn, Sequence[Care]]]


class CareModel(RowsModel[Row]):
    """Turns in their order, each with its cares below it, most in need first."""

    def show_turns(self, turns: Turns, stands: Mapping[int, Stand], folded: Collection[Turn], now: datetime,
                   zone: tzinfo, rules: HouseRules) -> None:
        """Show these; rows that stay the same are only told changed."""
        new: list[Row] = []
        for turn, cares in turns:
            known = [care for care in cares if care.plant in stands]
            fold = turn in folded if turn in FOLDING else None
            if known:
                new.append(Heading(turn, len(known), fold))
            if not fold:
                new += [row_of(care, stands[care.plant], now, zone, rules) for care in known]
        self.show(new)

    def cares(self) -> list[CareRow]:
        """The cares shown, without their headings."""
        return [row for row in self.rows if isinstance(row, CareRow)]

    def key(self, row: Row) -> object:
        return _key(row)

    def told(self, row: Row, role: int) -> str | None:
        if role in SPOKEN:
            return row.spoken if isinstance(row, Heading) else spoken(row)
        return tooltip(row) if role == Qt.ItemDataRole.ToolTipRole and isinstance(row, CareRow) else None


def spoken(row: CareRow) -> str:
    """The whole row as one sentence, for those who hear the screen."""
    where = f", {row.place}" if row.place else ""
    told = f"{row.put_off}, " if row.put_off else ""
    return f"{row.care.plant} {row.name.plain}{where}, {row.when}: {row.what}, {told}because {row.because}"


def tooltip(row: CareRow) -> str:
    """What a row may have cut off, and what a press does."""
    press = "Press for the whole why, and to answer it."
    return "\n".join(filter(None, (row.what, row.more, row.put_off, f"Because: {row.because}", press)))


def _key(row: Row) -> tuple[object, ...]:
    if isinstance(row, Heading):
        return (row.turn,)
    return row.care.plant, row.care.kind, row.care.origin, row.care.nth

"""Entries in plain words: a mark, a title and a detail for every kind of facts."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, tzinfo
from typing import Any, NamedTuple

from greenhouse_desk.domain.care_reasons import NOT_NAMED
from greenhouse_desk.domain.figures import counted
from greenhouse_desk.domain.journal import (
    Aired,
    Answer,
    Arrived,
    Blotted,
    ClockChanged,
    Cut,
    Dressed,
    Dry,
    Entry,
    Facts,
    Labelled,
    Left,
    Looked,
    Note,
    OutbreakOpened,
    Overruled,
    Part,
    Photo,
    Placed,
    Potted,
    Poured,
    Purpose,
    Reading,
    Released,
    Reply,
    Roots,
    Settled,
    Shared,
    Sharing,
    Sighted,
    Signs,
    Step,
    Treated,
    Unpotted,
    VirusTested,
    Wetted,
)
from greenhouse_desk.services import records_words_year

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


ANIMALS = frozenset({"egg", "sac", "nymph", "crawler", "adult", "snail", "shield", "mite", "fly"})
"""Stages of life that are counted."""


class Words(NamedTuple):
    """An entry in words: the name of its mark, a short title, and the rest."""

    mark: str
    title: str
    detail: str = ""


@dataclass(frozen=True, slots=True)
class Labels:
    """Names behind the keys that entries hold; a key without a name is shown as its own words."""

    places: Mapping[int, str] = field(default_factory=dict)
    sources: Mapping[int, str] = field(default_factory=dict)
    agents: Mapping[str, str] = field(default_factory=dict)
    pests: Mapping[str, str] = field(default_factory=dict)

    def agent(self, key: str) -> str:
        return self.agents.get(key) or spaced(key)

    def pest(self, key: str) -> str:
        return self.pests.get(key) or spaced(key)


@dataclass(frozen=True, slots=True)
class Line:
    """An entry as the drawer shows it: its day ("24 Nov"), mark, title and detail."""

    entry: Entry
    day_words: str
    mark: str
    title: str
    detail: str


def line(entry: Entry, labels: Labels, now: datetime, zone: tzinfo) -> Line:
    """The entry in words; its day in `zone`, with the year when it is not the year of `now`."""
    said = words(entry.facts, labels)
    detail = "; ".join(part for part in (said.detail, entry.note) if part)
    day = day_words(entry.at.astimezone(zone).date(), now.astimezone(zone).date())
    return Line(entry, day, said.mark, said.title, detail)


def day_words(day: date, today: date) -> str:
    """ "24 Nov", or "24 Nov 2025" when it lies in another year than `today`."""
    short = f"{day.day} {MONTHS[day.month - 1]}"
    return short if day.year == today.year else f"{short} {day.year}"


def words(facts: Facts, labels: Labels) -> Words:
    """Facts of any kind in plain words."""
    return SAYINGS[type(facts)](facts, labels)


def spaced(key: str) -> str:
    """A data file's key as words: "two-spotted-mite" is "two spotted mite"."""
    return key.replace("-", " ").replace("_", " ")


def listed(words: Sequence[str]) -> str:
    """ "a", "a and b", "a, b and c"."""
    return " and ".join(filter(None, (", ".join(words[:-1]), *words[-1:])))


def plural(stage: str) -> str:
    """More than one of a stage of life: "6 nymphs", "2 larvae"; words that name no animal stay as they are."""
    if stage.endswith(("larva", "pupa")):
        return f"{stage}e"
    return f"{stage}s" if stage.split(" ")[-1] in ANIMALS else stage


def _parts(parts: tuple[Part, ...]) -> str:
    return listed([part.value for part in parts])


def _arrived(facts: Arrived, labels: Labels) -> Words:
    origin = f"from {labels.sources.get(facts.source, 'a source since removed')}" if facts.source else "source unknown"
    return Words("arrived", "arrived", origin if facts.day_known else f"{origin}, day unknown")


def _placed(facts: Placed, labels: Labels) -> Words:
    return Words("place", f"to {labels.places.get(facts.place, 'a place since removed')}")


def _potted(facts: Potted, labels: Labels) -> Words:
    tail = ("the move to another medium" if facts.transition else "", "" if facts.day_known else "day unknown")
    return Words("potting", f"potted in {facts.medium}", ", ".join(filter(None, (facts.pot, *tail))))


def _unpotted(facts: Unpotted, labels: Labels) -> Words:
    return Words("potting", "unpotted", "roots bare")


def _left(facts: Left, labels: Labels) -> Words:
    title = "died" if facts.how.value == "dead" else facts.how.value
    return Words("left", title, facts.reason)


def _looked(facts: Looked, labels: Labels) -> Words:
    lens = f"with a {facts.lens} lens" if facts.lens else ""
    return Words("inspection", "clean look" if facts.clean else "look, not clean", lens)


def _sighted(facts: Sighted, labels: Labels) -> Words:
    stage = plural(facts.stage) if facts.count > 1 else facts.stage
    seen = " ".join(filter(None, (str(facts.count) if facts.count else "", stage)))
    return Words("sighting", f"{labels.pest(facts.what)} seen", ", ".join(filter(None, (seen, facts.where))))


def _released(facts: Released, labels: Labels) -> Words:
    return Words("released", f"released from {labels.pest(facts.what)}" if facts.what else "released", facts.reason)


def _roots(facts: Roots, labels: Labels) -> Words:
    more = [f"{counted(facts.new_tips, 'new tip')}"] if facts.new_tips else []
    if facts.removed_percent:
        more.append(f"{facts.removed_percent} % of all roots cut away")
    return Words("roots", f"roots: {facts.living} living, {facts.dead} dead", ", ".join(more))


def _cut(facts: Cut, labels: Labels) -> Words:
    return Words("cut", f"{counted(facts.count, 'cut')} on the {facts.part.value}")


def _dressed(facts: Dressed, labels: Labels) -> Words:
    return Words("cut", "cuts dressed", f"with {labels.agent(facts.agent)}" if facts.agent else "")


PURPOSES = {Purpose.ROOT_DISINFECTION: "roots disinfected", Purpose.PEST_WASH: "washed against pests",
            Purpose.DISINFECTION: "disinfected"}


def _treated(facts: Treated, labels: Labels) -> Words:
    agent = (labels.agent(facts.agent) or NOT_NAMED) + (f" {facts.strength:g} %" if facts.strength is not None else "")
    told = [agent, f"on {_parts(facts.parts)}" if facts.parts else ""]
    if facts.minutes is not None:
        told.append(f"{facts.minutes:g} min")
    if facts.early:
        told.append("ended before its least, on purpose")
    return Words("soak", PURPOSES[facts.purpose], ", ".join(filter(None, told)))


def _wetted(facts: Wetted, labels: Labels) -> Words:
    pool = "water stands in the crown" if facts.pool else ""
    return Words("plain water", f"{_parts(facts.parts) or 'plant'} wetted", pool)


def _blotted(facts: Blotted, labels: Labels) -> Words:
    return Words("drying", "crown and axils blotted")


def _aired(facts: Aired, labels: Labels) -> Words:
    return Words("drying", "moving air on")


def _dry(facts: Dry, labels: Labels) -> Words:
    return Words("dry rest", "crown dry", "felt dry to the touch")


def _poured(facts: Poured, labels: Labels) -> Words:
    amount = f"{facts.ml} ml" if facts.ml is not None else ""
    if not facts.feed:
        return Words("plain water", "poured, plain water", amount)
    return Words("pour", "poured, half-strength feed" if facts.half_strength else "poured, with feed", amount)


def _reading(facts: Reading, labels: Labels) -> Words:
    air = f"air {facts.air_speed_m_s:g} m/s" if facts.air_speed_m_s is not None else ""
    air = air or (f"air {facts.moving.value}" if facts.moving is not None else "")
    return Words("inspection", f"{facts.temp_c:.1f} C, {facts.rh * 100:.0f} % RH", air)


def _photo(facts: Photo, labels: Labels) -> Words:
    return Words("photo", "photo", facts.name)


def _note(facts: Note, labels: Labels) -> Words:
    return Words("note", "note", facts.text)


def _step(facts: Step, labels: Labels) -> Words:
    return Words("step", facts.title)


def _answer(facts: Answer, labels: Labels) -> Words:
    until = f"until {facts.until.day} {MONTHS[facts.until.month - 1]}" if facts.until else ""
    mark = "over" if facts.reply is Reply.MISSED else "answer"
    return Words(mark, f"{facts.care}: {facts.reply.value}", ", ".join(filter(None, (until, facts.reason))))


def _clock(facts: ClockChanged, labels: Labels) -> Words:
    return Words("clock", f"the wall clock jumped by {facts.seconds:+.0f} s", f"kept to the {facts.used}")


def _signs(facts: Signs, labels: Labels) -> Words:
    told = (("leaves", facts.leaves), ("stands", facts.stand), ("smells", facts.smell), ("crown", facts.crown),
            ("roots", facts.roots), ("", facts.growing))
    said = [f"{name} {value.value}".strip() for name, value in told if value is not None]
    return Words("inspection", "signs seen" if said else "signs: nothing looked at", "; ".join(said))


def _overruled(facts: Overruled, labels: Labels) -> Words:
    again = f", look again in {facts.days} days" if facts.days else ""
    return Words("answer", f"{facts.instead} instead of {facts.said}", f"{facts.reason}{again}")


def _settled(facts: Settled, labels: Labels) -> Words:
    return Words("clear", "settled", facts.reason)


def _outbreak(facts: OutbreakOpened, labels: Labels) -> Words:
    return Words("sighting", f"outbreak of {labels.pest(facts.what)} opened")


def _labelled(facts: Labelled, labels: Labels) -> Words:
    return Words("note", "label printed", "; ".join((facts.layout, *facts.says)))


def _shared(facts: Shared, labels: Labels) -> Words:
    for_days = "" if facts.days == 1 else f"for {facts.days} days"
    mark = "plain water" if facts.how is Sharing.WATER else "place"
    return Words(mark, f"shared {facts.how.value} with {listed([str(number) for number in facts.plants])}", for_days)


def _tested(facts: VirusTested, labels: Labels) -> Words:
    mark, result = ("sighting", "positive") if facts.positive else ("clear", "negative")
    return Words(mark, f"{labels.pest(facts.what)}: tested {result}",
                 ", ".join(filter(None, (f"by {facts.by}" if facts.by else "", facts.test))))


def _year(facts: Any, labels: Labels) -> Words:
    return Words(*records_words_year.year_words(facts))


SAYINGS: dict[type[Any], Callable[[Any, Labels], Words]] = {
    Arrived: _arrived, Placed: _placed, Potted: _potted, Unpotted: _unpotted, Left: _left, Looked: _looked,
    Sighted: _sighted, Released: _released, Roots: _roots, Cut: _cut, Dressed: _dressed, Treated: _treated,
    Wetted: _wetted, Blotted: _blotted, Aired: _aired, Dry: _dry, Poured: _poured, Reading: _reading, Photo: _photo,
    Note: _note, Step: _step, Answer: _answer, ClockChanged: _clock, Signs: _signs, Overruled: _overruled,
    Settled: _settled, OutbreakOpened: _outbreak, Labelled: _labelled, Shared: _shared, VirusTested: _tested,
    **dict.fromkeys(records_words_year.SAYINGS, _year),
}

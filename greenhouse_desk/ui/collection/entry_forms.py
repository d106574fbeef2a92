"""What can be written into a plant's journal by hand: each kind of entry as a form described by data."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import UTC, datetime, tzinfo
from typing import Any

from greenhouse_desk.domain.journal import (
    Entry,
    Facts,
    Kind,
    Looked,
    Note,
    Part,
    Potted,
    Poured,
    Roots,
    Sighted,
    Wetted,
)
from greenhouse_desk.ui.forms import Field, Input, Values

LENSES = ("", "10x", "20x", "bare eye")
WET = (("leaves", (Part.LEAVES,)), ("crown and leaves", (Part.CROWN, Part.LEAVES)), ("roots", (Part.ROOTS,)),
       ("the whole plant", (Part.PLANT,)))


@dataclass(frozen=True, slots=True)
class EntryForm:
    """How one kind of entry is asked: its word in the menu, its fields, and the facts they make."""

    word: str
    kind: Kind
    facts: type[Facts]
    fields: tuple[Field, ...]

    def build(self, values: Values, pests: Mapping[str, str]) -> Facts:
        """The facts filled in. A pest's name becomes its key where it is a known one."""
        given = {field.name: values[field.name] for field in self.fields}
        if self.kind is Kind.SIGHTED:
            keys = {name: key for key, name in pests.items()}
            given["what"] = keys.get(given["what"], given["what"].strip())
        return self.facts(**given)


def _pick(*words: str) -> tuple[tuple[str, Any], ...]:
    return tuple((word, word) for word in words)


FORMS: dict[Kind, EntryForm] = {form.kind: form for form in (
    EntryForm("Note", Kind.NOTE, Note, (Field("text", Input.LONG, "Note"),)),
    EntryForm("Look", Kind.LOOKED, Looked, (
        Field("clean", Input.CHOICE, "Seen", choices=(("clean, no pest or disease", True), ("not clean", False)),
              help="For what was seen, write a sighting."),
        Field("lens", Input.PICK, "Lens", choices=_pick(*LENSES), start="10x"))),
    EntryForm("Sighting", Kind.SIGHTED, Sighted, (
        Field("what", Input.PICK, "What", help="A pest or disease; your own word will do."),
        Field("stage", Input.PICK, "Stage", choices=_pick("", "egg", "crawler", "nymph", "larva", "adult")),
        Field("where", Input.PICK, "Where", choices=_pick("", "leaf underside", "leaf axil", "crown", "spike", "roots",
                                                          "pseudobulb", "medium")),
        Field("count", Input.NUMBER, "How many", help="0 when not counted.", high=9999))),
    EntryForm("Roots", Kind.ROOTS, Roots, (
        Field("living", Input.NUMBER, "Living roots", help="Firm, whatever the colour.", high=999),
        Field("dead", Input.NUMBER, "Dead roots", help="Hollow, flat, papery or squashy.", high=999),
        Field("new_tips", Input.NUMBER, "New tips", high=999),
        Field("removed_percent", Input.NUMBER, "Share cut away", unit="% of all roots", high=100))),
    EntryForm("Pour", Kind.POURED, Poured, (
        Field("feed", Input.CHOICE, "With", choices=(("plain water", False), ("feed", True))),
        Field("half_strength", Input.CHECK, "Feed at half strength"),
        Field("ml", Input.NUMBER, "Amount", unit="ml", optional=True, low=1, high=20_000, start=None))),
    EntryForm("Wetted", Kind.WETTED, Wetted, (
        Field("parts", Input.CHOICE, "What got wet", choices=WET, help="Wet leaves and crowns are owed moving air."),
        Field("pool", Input.CHECK, "Water stands in the crown"))),
    EntryForm("Repot", Kind.POTTED, Potted, (
        Field("medium", Input.PICK, "Medium", choices=_pick("clay pellets", "pumice", "bark", "moss", "bark and moss")),
        Field("pot", Input.TEXT, "Pot", help="Such as: clear pot 12 cm."),
        Field("transition", Input.CHECK, "This is the move to another kind of medium"))),
)}

NOTE_FIELD = Field("note", Input.LONG, "Remark")


def when_fields(at: datetime, zone: tzinfo) -> tuple[Field, ...]:
    """The day and the time of an entry, starting at `at`."""
    local = at.astimezone(zone)
    return (Field("on", Input.DATE, "Day", start=local.date()), Field("hour", Input.TIME, "Time", start=local.time()))


def moment(values: Values, zone: tzinfo, now: datetime) -> datetime:
    """The instant filled in (aware UTC); the current minute counts as `now`."""
    given = datetime.combine(values["on"], values["hour"], zone).astimezone(UTC)
    return now if given.replace(second=0) == now.replace(second=0, microsecond=0) else given


def with_pests(form: EntryForm, pests: Mapping[str, str]) -> tuple[Field, ...]:
    """The form's fields, a sighting's with the known pests to pick from."""
    if form.kind is not Kind.SIGHTED:
        return form.fields
    first = form.fields[0]
    picks = tuple((name, name) for name in sorted(pests.values()))
    return (Field(first.name, first.input, first.label, first.help, choices=picks), *form.fields[1:])


def given_of(entry: Entry, pests: Mapping[str, str]) -> Values:
    """An entry's facts as its form's values."""
    given = asdict(entry.facts)
    if isinstance(entry.facts, Sighted):
        given["what"] = pests.get(entry.facts.what, entry.facts.what)
    return given

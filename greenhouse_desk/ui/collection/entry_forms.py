"""What can be written into a plant's journal by hand: each kind of entry as a form described by data."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, fields, replace
from datetime import UTC, datetime, tzinfo
from enum import StrEnum
from typing import Any

from greenhouse_desk.domain.agents import WATER, Agent
from greenhouse_desk.domain.contacts import is_virus
from greenhouse_desk.domain.journal import (
    Aired,
    Blotted,
    Cut,
    Dressed,
    Dry,
    Entry,
    Facts,
    Flowering,
    Kind,
    Light,
    Lit,
    Looked,
    Note,
    Part,
    Phase,
    Potted,
    Poured,
    Purpose,
    Resting,
    Roots,
    Shared,
    Sharing,
    Sighted,
    Signs,
    Stage,
    Treated,
    Unpotted,
    VirusTested,
    Wetted,
)
from greenhouse_desk.domain.journal_course import Crown, Growing, Leaves, RootState, Smell, Stand
from greenhouse_desk.domain.labels_choice import numbers
from greenhouse_desk.ui.forms import Field, Input, Values
from greenhouse_desk.ui.own_word import OWN_FIELD

LENSES = ("", "10x", "20x", "bare eye")
WET = (("leaves", (Part.LEAVES,)), ("crown and leaves", (Part.CROWN, Part.LEAVES)), ("roots", (Part.ROOTS,)),
       ("the whole plant", (Part.PLANT,)))
TREATED = (("leaves", (Part.LEAVES,)), ("leaves and crown", (Part.LEAVES, Part.CROWN)), ("roots", (Part.ROOTS,)),
           ("cuts", (Part.CUTS,)), ("spike", (Part.SPIKE,)), ("the whole plant", (Part.PLANT,)))
CUT = tuple((part.value, part) for part in (Part.ROOTS, Part.SPIKE, Part.LEAVES, Part.CROWN, Part.PLANT))
LABEL = "label"
WETS = "wets"
PLANTS = "plants"


@dataclass(frozen=True, slots=True)
class Names:
    """The names to pick from, each by its key: pests and diseases, agents for plants, powders for cuts."""

    pests: Mapping[str, str] = field(default_factory=dict)
    agents: Mapping[str, str] = field(default_factory=dict)
    powders: Mapping[str, str] = field(default_factory=dict)

    def of(self, kind: Kind) -> tuple[str, Mapping[str, str]]:
        """The field of this kind of entry that holds a key ("" for none), and the names for it."""
        viruses = {key: name for key, name in self.pests.items() if is_virus(key)}
        return {Kind.SIGHTED: ("what", self.pests), Kind.TREATED: ("agent", self.agents),
                Kind.DRESSED: ("agent", self.powders), Kind.TESTED: ("what", viruses)}.get(kind, ("", {}))


def names_of(pests: Mapping[str, str], agents: Mapping[str, Agent]) -> Names:
    """The names a form offers: agents that may go on a plant, and of them those that dress a cut."""
    on_plants = (Part.ROOTS, Part.LEAVES, Part.CROWN, Part.SPIKE, Part.CUTS, Part.PLANT)
    usable = {key: agent for key, agent in agents.items()
              if agent.family != WATER and any(agent.use(part) for part in on_plants)}
    powders = {key: agent.name for key, agent in usable.items() if agent.form == "powder" and agent.use(Part.CUTS)}
    return Names(pests, {key: agent.name for key, agent in usable.items()}, powders)


@dataclass(frozen=True, slots=True)
class EntryForm:
    """How one kind of entry is asked: its word in the menu, its fields, and the facts they make.

    `beside` are fields of a new entry only: they make more facts of the same deed. `words` stand over the form.
    """

    word: str
    kind: Kind
    facts: type[Facts]
    fields: tuple[Field, ...] = ()
    beside: tuple[Field, ...] = ()
    words: str = ""

    def build(self, values: Values, names: Names) -> Facts:
        """The facts filled in. A name becomes its key where it is a known one."""
        given = {told.name: values[told.name] for told in fields(self.facts) if told.name in values}
        key, known = names.of(self.kind)
        if key:
            keys = {name: found for found, name in known.items()}
            given[key] = keys.get(given[key], given[key].strip())
        if isinstance(given.get(PLANTS), str):
            given[PLANTS] = tuple(number for first, last in numbers(given[PLANTS]) for number in range(first, last + 1))
        return self.facts(**given)

    def all(self, values: Values, names: Names) -> tuple[Facts, ...]:
        """The facts filled in, and those that go with them: a wash also wets."""
        wet = values.get(WETS)
        return (self.build(values, names), *((Wetted(wet),) if wet else ()))


def _pick(*words: str) -> tuple[tuple[str, Any], ...]:
    return tuple((word, word) for word in words)


def _each(kinds: type[StrEnum]) -> tuple[tuple[str, Any], ...]:
    return tuple((one.value, one) for one in kinds)


def _sign(name: str, label: str, kinds: type[StrEnum]) -> Field:
    choices: tuple[tuple[str, Any], ...] = (("not looked at", None), *_each(kinds))
    return Field(name, Input.CHOICE, label, choices=choices)


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
        Field("count", Input.NUMBER, "How many", help="0 when not counted.", high=9999)), beside=(OWN_FIELD,)),
    EntryForm("Virus test", Kind.TESTED, VirusTested, (
        Field("what", Input.PICK, "Suspected"),
        Field("positive", Input.CHOICE, "The test", choices=(("did not find it: negative", False),
                                                             ("found it: positive", True))),
        Field("by", Input.TEXT, "Tested by", help="Such as: a laboratory, or yourself."),
        Field("test", Input.TEXT, "By what test, for which viruses", help="It says nothing of viruses it is not for.")),
        words="A test soon after a contact can miss a fresh infection. A negative one ends a suspicion; nothing ends "
              "what a test has proven."),
    EntryForm("Shared water or tray", Kind.SHARED, Shared, (
        Field("how", Input.CHOICE, "Shared", choices=_each(Sharing)),
        Field(PLANTS, Input.TEXT, "With the plants", help="Their numbers, such as: 102, 105-107."),
        Field("days", Input.NUMBER, "For", unit="days", low=1, high=366, start=1, help="1 for that day alone.")),
        words="What one of them carries can have reached the others."),
    EntryForm("Roots", Kind.ROOTS, Roots, (
        Field("living", Input.NUMBER, "Living roots", help="Firm, whatever the colour.", high=999),
        Field("dead", Input.NUMBER, "Dead roots", help="Hollow, flat, papery or squashy.", high=999),
        Field("new_tips", Input.NUMBER, "New tips", high=999),
        Field("removed_percent", Input.NUMBER, "Share cut away", unit="% of all roots", high=100))),
    EntryForm("Signs", Kind.SIGNS, Signs, (
        _sign("roots", "Roots look and feel", RootState), _sign("leaves", "Leaves", Leaves),
        _sign("stand", "It stands", Stand), _sign("crown", "Crown", Crown), _sign("smell", "The pot smells", Smell),
        _sign("growing", "The plant is", Growing)), words="What you did not look at stays open."),
    EntryForm("Pour", Kind.POURED, Poured, (
        Field("feed", Input.CHOICE, "With", choices=(("plain water", False), ("feed", True))),
        Field("half_strength", Input.CHECK, "Feed at half strength"),
        Field("ml", Input.NUMBER, "Amount", unit="ml", optional=True, low=1, high=20_000, start=None))),
    EntryForm("Wetted", Kind.WETTED, Wetted, (
        Field("parts", Input.CHOICE, "What got wet", choices=WET, help="Wet leaves and crowns are owed moving air."),
        Field("pool", Input.CHECK, "Water stands in the crown"))),
    EntryForm("Blotted", Kind.BLOTTED, Blotted, words="Crown and axils blotted: no pool stands any more."),
    EntryForm("Fan on", Kind.AIRED, Aired, words="Moving air put on the wet plant."),
    EntryForm("Crown dry", Kind.DRY, Dry, words="Crown and axils felt dry, with a finger. Only this ends the airing."),
    EntryForm("Treatment", Kind.TREATED, Treated, (
        Field("agent", Input.PICK, "With", help="From the list, or your own word for a product with a label."),
        Field("purpose", Input.CHOICE, "Against", choices=(
            ("pests", Purpose.PEST_WASH), ("rot, on roots", Purpose.ROOT_DISINFECTION),
            ("rot, elsewhere", Purpose.DISINFECTION)), help="Disinfected roots are owed plain water after it."),
        Field("parts", Input.CHOICE, "On", choices=TREATED),
        Field("strength", Input.DECIMAL, "Strength", unit="%", optional=True, high=100, decimals=2),
        Field("minutes", Input.DECIMAL, "Contact", unit="min", optional=True, high=2880)),
        (Field(WETS, Input.CHOICE, "It wetted", choices=(("neither leaves nor crown", ()), *WET[:2], WET[3]),
               help="Wet leaves and crowns are owed moving air."),
         Field(LABEL, Input.LONG, "What the label says", help="Needed for a pesticide: product, dose and plant, word "
               "for word. Its label is law where you live; no product and no dose is proposed here.")),
        "What was done, as it was done."),
    EntryForm("Cut", Kind.CUT, Cut, (
        Field("part", Input.CHOICE, "On", choices=CUT),
        Field("count", Input.NUMBER, "How many cuts", low=1, high=999, start=1,
              help="An open cut is owed a dry powder, and looks until it has closed."))),
    EntryForm("Cuts dressed", Kind.DRESSED, Dressed, (
        Field("agent", Input.PICK, "With", help="A dry powder. Keep it off living roots: it dries them."),)),
    EntryForm("Unpotted", Kind.UNPOTTED, Unpotted, words="Out of its pot, roots bare: it is owed a pot."),
    EntryForm("Repot", Kind.POTTED, Potted, (
        Field("medium", Input.PICK, "Medium", choices=_pick("clay pellets", "pumice", "bark", "moss", "bark and moss")),
        Field("pot", Input.TEXT, "Pot", help="Such as: clear pot 12 cm."),
        Field("transition", Input.CHECK, "This is the move to another kind of medium"))),
    EntryForm("Spike, buds or flowers", Kind.FLOWERING, Flowering, (
        Field("stage", Input.CHOICE, "Seen", choices=_each(Stage)),
        Field("count", Input.NUMBER, "How many", help="Spikes, buds or flowers; 0 when not counted.", high=999)),
        words="In spike until you write that the flowers are over: nothing is moved to another medium meanwhile."),
    EntryForm("Rest", Kind.RESTING, Resting, (
        Field("phase", Input.CHOICE, "The plant's", choices=_each(Phase)),
        Field("dry", Input.CHECK, "It is kept dry in its rest", help="Then water and feed are held until it ends."))),
    EntryForm("Shade or sun", Kind.LIGHT, Lit, (
        Field("to", Input.CHOICE, "Moved into", choices=_each(Light),
              help="Where it stays on its bench; for another bench, move it there."),)),
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


def with_names(form: EntryForm, names: Names) -> tuple[Field, ...]:
    """The form's fields, the one that holds a key with the known names to pick from."""
    key, known = names.of(form.kind)
    picks = tuple((name, name) for name in sorted(known.values()))
    only = picks[0][0] if len(picks) == 1 else None
    return tuple(replace(told, choices=picks, start=only) if told.name == key else told for told in form.fields)


def given_of(entry: Entry, names: Names) -> Values:
    """An entry's facts as its form's values."""
    given = {told.name: getattr(entry.facts, told.name) for told in fields(entry.facts)}
    key, known = names.of(entry.kind)
    if key:
        given[key] = known.get(given[key], given[key])
    if PLANTS in given:
        given[PLANTS] = ", ".join(map(str, given[PLANTS]))
    return given


def starting(told: Field, given: Any) -> Field:
    """The field with what an entry holds; a choice that is not offered is offered too, so that nothing is changed."""
    if told.input is Input.CHOICE and given not in [value for _, value in told.choices]:
        said = " and ".join(given) if isinstance(given, tuple) else str(given)
        return replace(told, choices=((said, given), *told.choices), start=given)
    return replace(told, start=given)

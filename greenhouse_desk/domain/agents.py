"""Generic agents: working strengths by use, hazards, what they must not meet, what cancels them, shelf life."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from math import inf

from greenhouse_desk.domain.datafile import Fields, Gathered, by_word
from greenhouse_desk.domain.faults import Fault
from greenhouse_desk.domain.hazards import PHRASES, phrase
from greenhouse_desk.domain.journal import Part

WATER = "water"
DAY_MIN = 24 * 60.0


class Percent(StrEnum):
    """What a strength in percent means. Never mixed silently."""

    BY_VOLUME = "% by volume"
    BY_MASS = "% by mass"
    LABEL = "as the label says"


class Form(StrEnum):
    """How an agent comes to the bench."""

    LIQUID = "liquid"
    POWDER = "powder"


@dataclass(frozen=True, slots=True)
class Use:
    """A use of an agent: on what (a Part), lowest and highest working strength, least contact in minutes, source.

    `most_min` is the longest contact in minutes (0: none is set); `why` what is known for and against.
    """

    on: str
    low: float
    high: float
    least_min: float
    source: str
    most_min: float = 0.0
    why: str = ""


@dataclass(frozen=True, slots=True)
class Clash:
    """A pair that must not meet: the other agent's key or family, from which strengths on (percent), why, source.

    `apart_days` above 0 says that a rinse between does not part them: so many days must lie between.
    """

    other: str
    why: str
    source: str
    from_strength: float = 0.0
    other_from_strength: float = 0.0
    apart_days: float = 0.0


@dataclass(frozen=True, slots=True)
class StrongHazard:
    """A hazard phrase that holds from one strength (percent) up to below another."""

    phrase: str
    from_strength: float
    below_strength: float = inf


@dataclass(frozen=True, slots=True)
class Agent:
    """One agent. `hazards` are GHS phrases word for word; `cancelled_by` names agent keys that undo its effect.

    `stocks` are the usual strengths it is sold at, in its own percent; `making` how the working solution is made, and
    `note` what a grower should know besides. `family` groups agents that react alike ("alcohol", "acid", "water").
    `clears_virus` tells whether a published trial shows it to stop a virus on blades.
    """

    key: str
    name: str
    percent: Percent
    uses: tuple[Use, ...]
    hazards: tuple[str, ...] = ()
    clashes: tuple[Clash, ...] = ()
    cancelled_by: tuple[str, ...] = ()
    shelf_hours: float | None = None
    shelf_source: str = ""
    caution: str = ""
    family: str = ""
    form: Form = Form.LIQUID
    stocks: tuple[float, ...] = ()
    making: str = ""
    note: str = ""
    strong_hazards: tuple[StrongHazard, ...] = ()
    hazards_source: str = ""
    clears_virus: bool = False

    def use(self, part: str) -> Use | None:
        """How it may be used on `part`, or None where it may not."""
        return next((use for use in self.uses if use.on == part), None)


def hazards_at(agent: Agent, strength: float | None) -> tuple[str, ...]:
    """The hazard phrases of `agent` at `strength` percent; all it can have when the strength is unknown (None)."""
    strong = tuple(hazard.phrase for hazard in agent.strong_hazards
                   if strength is None or hazard.from_strength <= strength < hazard.below_strength)
    return agent.hazards + strong


def clash(a: Agent, strength_a: float | None, b: Agent, strength_b: float | None) -> Clash | None:
    """The do-not-mix rule that `a` and `b` break at these strengths (percent), or None. The order does not matter.

    An unknown strength (None) counts as strong enough.
    """
    left, right = sorted([(a, strength_a), (b, strength_b)], key=lambda pair: pair[0].key)
    return _one_way(*left, *right) or _one_way(*right, *left)


def _one_way(a: Agent, strength_a: float | None, b: Agent, strength_b: float | None) -> Clash | None:
    for rule in a.clashes:
        enough = _reaches(strength_a, rule.from_strength) and _reaches(strength_b, rule.other_from_strength)
        if enough and named(b, rule.other) and a.key != b.key:
            return rule
    return None


def _reaches(strength: float | None, from_strength: float) -> bool:
    return strength is None or strength >= from_strength


def kept_away(agent: Agent, met: Agent, met_strength: float | None) -> tuple[str, str]:
    """`agent` as it must never meet `met`, and why where weaker is allowed: "hydrogen peroxide of 8 % or more".

    Both are "" where they may meet at any strength of `agent`.
    """
    rule = clash(agent, None, met, met_strength)
    if rule is None:
        return "", ""
    least = rule.from_strength if rule in agent.clashes else rule.other_from_strength
    return (f"{agent.name} of {least:g} % or more", rule.why) if least else (agent.name, "")


def named(agent: Agent, word: str) -> bool:
    """Whether `word` names this agent, by its key or its family."""
    return bool(word) and word in (agent.key, agent.family)


def cancelled(agent: Agent, by: Agent) -> bool:
    """Whether `by`, left on the same thing without a rinse, undoes what `agent` does (soap and a quaternary)."""
    return any(named(by, word) for word in agent.cancelled_by)


def read_agents(data: object, file: str) -> tuple[dict[str, Agent], tuple[Fault, ...]]:
    """The agents of an agents file's `data` by key, and all its faults. Agents at fault are left out."""
    gathered = Gathered(file)
    top = Fields(data, "", gathered)
    agents = {str(key): top.table(table, str(key), _agent) for key, table in top.data.items()}
    _check_names(agents, gathered)
    good = {key: agent for key, agent in agents.items()
            if not any(path == key or path.startswith((f"{key}.", f"{key}[")) for path in gathered.paths)}
    return good, tuple(gathered.faults)


def _agent(fields: Fields) -> Agent:
    percent = fields.word("percent", by_word(Percent), Percent.LABEL, required=True)
    agent = Agent(
        key=fields.path, name=fields.text("name", required=True, most=60, lines=1), percent=percent,
        uses=fields.tables("uses", lambda use: _use(use, percent)),
        hazards=tuple(phrase(code) for code in fields.words("hazards", {code: code for code in PHRASES})),
        clashes=fields.tables("clashes", _clash), cancelled_by=fields.texts("cancelled_by"),
        shelf_hours=fields.optional_number("shelf_hours", 0, 100_000), shelf_source=fields.marked("shelf_source"),
        caution=fields.text("caution"), family=fields.text("family", most=30, lines=1),
        form=fields.word("form", by_word(Form), Form.LIQUID),
        stocks=_stocks(fields), making=fields.text("making"), note=fields.text("note"),
        strong_hazards=fields.tables("strong_hazards", _strong), hazards_source=fields.marked("hazards_source"),
        clears_virus=fields.flag("clears_virus"))
    if agent.shelf_hours is not None and not agent.shelf_source and fields.sound("shelf_source"):
        fields.fault("shelf_source", "missing: where the shelf life comes from was expected")
    return agent


def _stocks(fields: Fields) -> tuple[float, ...]:
    found: list[float] = []
    for number, item in enumerate(fields.items("stocks"), 1):
        if isinstance(item, int | float) and not isinstance(item, bool) and 0 < item <= 100:
            found.append(float(item))
        else:
            fields.fault(f"stocks[{number}]", "a strength above 0 and up to 100 percent was expected")
    return tuple(found)


def _use(fields: Fields, percent: Percent) -> Use:
    by_label = percent is Percent.LABEL
    use = Use(
        on=fields.word("on", by_word(Part), Part.TOOLS, required=True).value,
        low=fields.number("low", 0.0, 0, 100, required=not by_label),
        high=fields.number("high", 0.0, 0, 100, required=not by_label),
        least_min=fields.number("least_min", 0.0, 0, DAY_MIN), source=fields.marked(required=True),
        most_min=fields.number("most_min", 0.0, 0, DAY_MIN), why=fields.text("why"))
    if by_label and ("low" in fields.data or "high" in fields.data):
        fields.fault("low", "no strength was expected: the label gives it")
    if fields.sound("low", "high") and use.low > use.high:
        fields.fault("high", f"at least the low of {use.low:g} was expected, not {use.high:g}")
    if use.most_min and fields.sound("least_min", "most_min") and use.least_min > use.most_min:
        fields.fault("most_min", f"at least the least of {use.least_min:g} min was expected, not {use.most_min:g}")
    return use


def _clash(fields: Fields) -> Clash:
    return Clash(
        other=fields.text("other", required=True, most=60, lines=1), why=fields.text("why", required=True),
        source=fields.marked(required=True), from_strength=fields.number("from_strength", 0.0, 0, 100),
        other_from_strength=fields.number("other_from_strength", 0.0, 0, 100),
        apart_days=fields.number("apart_days", 0.0, 0, 366))


def _strong(fields: Fields) -> StrongHazard:
    code = fields.word("code", {code: code for code in PHRASES}, "H302", required=True)
    hazard = StrongHazard(phrase(code), fields.number("from_strength", 0.0, 0, 100, required=True),
                          fields.number("below_strength", inf, 0, 100))
    if fields.sound("from_strength", "below_strength") and hazard.below_strength <= hazard.from_strength:
        fields.fault("below_strength", f"more than the {hazard.from_strength:g} it holds from was expected")
    return hazard


def _check_names(agents: Mapping[str, Agent], gathered: Gathered) -> None:
    """Faults for clashes and cancellations that name nobody, or the agent itself."""
    known = set(agents) | {agent.family for agent in agents.values() if agent.family}
    for agent in agents.values():
        for number, rule in enumerate(agent.clashes, 1):
            _check_name(agent, rule.other, f"{agent.key}.clashes[{number}].other", known, gathered)
        for number, word in enumerate(agent.cancelled_by, 1):
            _check_name(agent, word, f"{agent.key}.cancelled_by[{number}]", known, gathered)


def _check_name(agent: Agent, word: str, path: str, known: set[str], gathered: Gathered) -> None:
    if path in gathered.paths or not word:
        return
    if word not in known:
        gathered.add(path, f"a known agent or family was expected, not '{word}'")
    elif named(agent, word):
        gathered.add(path, f"another agent was expected: {agent.name or agent.key} cannot meet itself")

"""Reads a protocol file's data into a Protocol, with every fault of the file by path and what was expected."""

from __future__ import annotations

import re
from collections.abc import Mapping

from greenhouse_desk.domain.agents import DAY_MIN, Agent
from greenhouse_desk.domain.care import CareKind
from greenhouse_desk.domain.datafile import Fields, Gathered, by_word, shown
from greenhouse_desk.domain.faults import Fault
from greenhouse_desk.domain.journal import Part, ProtocolCheck
from greenhouse_desk.domain.protocol_checks import faults
from greenhouse_desk.domain.protocol_steps import (
    ONLY_IF,
    SAY_LENGTH,
    Asks,
    Deed,
    Material,
    Protocol,
    ProtocolStep,
    Work,
)

ID = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
STEPS_MOST = 60
CHECK_DAYS_MOST = 366
BASIS = ("deed", "work", "on")
RESTS_HERE = {"strength": ("agent",), "wets": ("owes",)}
RESTS = {"id": ("after", "id"), "deed": ("deed", "wets"), "owes": ("wets",), "only_if": ("deed", "wets"),
         "wets": ("wets",), "amount_ml": ("amount_ml",), "agent": ("amount_ml",)}
WITH_A_LOST_STEP = ("after", "id", "deed", "wets", "amount_ml")


def read_protocol(data: object, file: str, agents: Mapping[str, Agent],
                  own: bool = False) -> tuple[Protocol | None, tuple[Fault, ...]]:
    """The protocol a file's `data` holds, and all faults of the file.

    None when the file cannot be read whole (an unknown key, a missing or wrong value): what was misread must not be
    worked by. A protocol whose faults are about the work itself is returned with them; those marked grave must keep
    it from being started. `file` names the file; its stem is the protocol's id. `own`: it is the grower's own.
    """
    gathered = Gathered(file)
    top = Fields(data, "", gathered)
    if gathered.faults:
        return None, tuple(gathered.faults)
    protocol = Protocol(
        id=_stem(file), title=top.text("title", required=True, most=SAY_LENGTH, lines=1),
        purpose=top.text("purpose", required=True),
        steps=top.tables("step", _step, required="at least one [[step]]"),
        materials=top.tables("material", lambda fields: _material(fields, agents)),
        cautions=top.texts("cautions"), own=own, file=file)
    top.end()
    _check_whole(protocol, top)
    misread = gathered.paths
    gathered.faults += [fault for fault in faults(protocol, agents) if not _follows(fault.path, misread)]
    return (None if misread else protocol), tuple(gathered.faults)


def _stem(file: str) -> str:
    name = re.split(r"[/\\]", file)[-1]
    return name[:-5] if name.endswith(".toml") else name


def _check_whole(protocol: Protocol, top: Fields) -> None:
    if not ID.fullmatch(protocol.id):
        top.gathered.add("file", f"a file name of small letters, digits and hyphens was expected, "
                         f"not {shown(protocol.id)}")
    if top.sound("step") and not protocol.steps:
        top.fault("step", "at least one [[step]] was expected")
    if len(protocol.steps) > STEPS_MOST:
        top.fault("step", f"at most {STEPS_MOST} steps were expected, not {len(protocol.steps)}")


def _follows(path: str, misread: frozenset[str]) -> bool:
    """Whether a fault at `path` only follows from a value, there or elsewhere, that could not be read."""
    return any(_within(path, bad) or _within(bad, path) or _rests(path, bad) for bad in misread)


def _within(path: str, outer: str) -> bool:
    return path == outer or path.startswith((f"{outer}.", f"{outer}["))


def _rests(path: str, bad: str) -> bool:
    step, key = _split(path)
    bad_step, bad_key = _split(bad)
    if bad.startswith("step[") and not bad_key:
        return key in WITH_A_LOST_STEP
    here = step == bad_step and (bad_key in BASIS or key in RESTS_HERE.get(bad_key, ()))
    return here or key in RESTS.get(bad_key, ())


def _split(path: str) -> tuple[str, str]:
    """The step a path lies in, and the key it names there."""
    step, _, key = path.partition(".")
    return step, key.partition("[")[0]


def _step(fields: Fields) -> ProtocolStep:
    key = fields.text("id", required=True, most=40, lines=1)
    if key and not ID.fullmatch(key) and fields.sound("id"):
        fields.fault("id", f"small letters, digits and hyphens were expected, not {shown(key)}")
    deed = fields.word("deed", by_word(Deed), Deed.PREPARE, required=True)
    parts = by_word(Part)
    return ProtocolStep(
        id=key, say=fields.text("say", required=True, most=SAY_LENGTH, lines=1),
        page=fields.text("page", required=True), deed=deed,
        work=fields.word("work", by_word(Work), Work.HANDS), on=fields.words("on", parts),
        agent=fields.text("agent", most=60, lines=1), strength=fields.optional_number("strength", 0, 100),
        amount_ml=fields.number("amount_ml", 0.0, 0, 100_000), minutes=fields.number("minutes", 1.0, 0, DAY_MIN),
        least_min=fields.number("least_min", 0.0, 0, DAY_MIN), most_min=fields.number("most_min", 0.0, 0, DAY_MIN),
        after=fields.texts("after"), wets=fields.words("wets", parts),
        owes=fields.words("owes", {kind.value: kind.value for kind in CareKind}),
        checks=fields.tables("check", _check), asks=fields.words("asks", by_word(Asks)), tool=fields.flag("tool"),
        only_if=fields.word("only_if", {word: word for word in ONLY_IF}, ""), caution=fields.text("caution"),
        source=fields.marked(), meanwhile=fields.flag("meanwhile"), medium=fields.text("medium", most=60, lines=1),
        transition=fields.flag("transition"))


def _check(fields: Fields) -> ProtocolCheck:
    days: list[int] = []
    for number, day in enumerate(fields.items("days", "a list of days"), 1):
        if isinstance(day, int) and not isinstance(day, bool) and 0 < day <= CHECK_DAYS_MOST:
            days.append(day)
        else:
            fields.fault(f"days[{number}]", f"a whole day from 1 to {CHECK_DAYS_MOST} was expected, not {shown(day)}")
    if days != sorted(set(days)):
        fields.fault("days", "days that go up were expected")
    if "days" in fields.data and fields.data["days"] == []:
        fields.fault("days", "at least one day was expected")
    return ProtocolCheck(what=fields.text("what", required=True, most=60, lines=1), days=tuple(days),
                         why=fields.text("why"))


def _material(fields: Fields, agents: Mapping[str, Agent]) -> Material:
    material = Material(
        what=fields.text("what", required=True, most=60, lines=1),
        amount=fields.number("amount", 1.0, 0.01, 100_000, required=True),
        unit=fields.text("unit", most=12, lines=1), each=fields.flag("each", True), note=fields.text("note"),
        agent=fields.text("agent", most=60, lines=1))
    if material.agent and material.agent not in agents:
        fields.fault("agent", f"a key of agents.toml was expected, not {shown(material.agent)}")
    return material

"""What a start copies: each plant's steps in queue order; clean tools stand in alcohol with the first plant alone."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace

from greenhouse_desk.domain.bench_turns import SEEN_HERE
from greenhouse_desk.domain.bench_values import RunStep, State
from greenhouse_desk.domain.protocols import Deed, Protocol, ProtocolStep


def copies(protocols: Sequence[Protocol], no_wash: Collection[int] = ()) -> tuple[tuple[RunStep, ...], ...]:
    """The steps of each run, for one protocol a plant in queue order; ids are the store's to give.

    On the plants at the places `no_wash` (from 0) no wash is owed: its steps stay out unless pests are seen here.

    Where a protocol cuts, its clean tools stand in alcohol before the first plant of the session alone. A tool that
    was used is seen to by the bench itself, which knows which one it is. Such steps of a protocol are skipped.
    """
    found, stood = [], False
    for place, protocol in enumerate(protocols):
        found.append(tuple(RunStep(0, number, _kept(step, place in no_wash), _state(protocol, number - 1, stood))
                           for number, step in enumerate(protocol.steps, 1)))
        stood = stood or any(_stands_tools(protocol, at) for at in range(len(protocol.steps)))
    return tuple(found)


def _kept(step: ProtocolStep, no_wash: bool) -> ProtocolStep:
    return replace(step, only_if=SEEN_HERE) if no_wash and step.only_if == "pests" else step


def _state(protocol: Protocol, at: int, stood: bool) -> State:
    used = any(earlier.tool for earlier in protocol.steps[:at])
    return State.SKIPPED if _stands_tools(protocol, at) and (used or stood) else State.OPEN


def _stands_tools(protocol: Protocol, at: int) -> bool:
    """Whether a step stands the tools this protocol cuts with in alcohol."""
    return protocol.steps[at].deed is Deed.SOAK_TOOLS and any(step.tool for step in protocol.steps)

"""What a start copies: each plant's steps in queue order; clean tools stand in alcohol with the first plant alone."""

from __future__ import annotations

from collections.abc import Sequence

from greenhouse_desk.domain.bench_values import RunStep, State
from greenhouse_desk.domain.protocols import Deed, Protocol


def copies(protocols: Sequence[Protocol]) -> tuple[tuple[RunStep, ...], ...]:
    """The steps of each run, for one protocol a plant in queue order; ids are the store's to give.

    Where a protocol cuts, its clean tools stand in alcohol before the first plant of the session alone. A tool that
    was used is seen to by the bench itself, which knows which one it is. Such steps of a protocol are skipped.
    """
    found, stood = [], False
    for protocol in protocols:
        found.append(tuple(RunStep(0, number, step, _state(protocol, number - 1, stood))
                           for number, step in enumerate(protocol.steps, 1)))
        stood = stood or any(_stands_tools(protocol, at) for at in range(len(protocol.steps)))
    return tuple(found)


def _state(protocol: Protocol, at: int, stood: bool) -> State:
    used = any(earlier.tool for earlier in protocol.steps[:at])
    return State.SKIPPED if _stands_tools(protocol, at) and (used or stood) else State.OPEN


def _stands_tools(protocol: Protocol, at: int) -> bool:
    """Whether a step stands the tools this protocol cuts with in alcohol."""
    return protocol.steps[at].deed is Deed.SOAK_TOOLS and any(step.tool for step in protocol.steps)

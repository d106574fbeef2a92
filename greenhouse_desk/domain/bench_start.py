"""What a start copies: each plant's steps in queue order, those done once a session only with the first plant."""

from __future__ import annotations

from collections.abc import Sequence

from greenhouse_desk.domain.bench_values import RunStep, State
from greenhouse_desk.domain.protocols import Deed, Protocol, ProtocolStep

Once = tuple[str, str]


def copies(protocols: Sequence[Protocol]) -> tuple[tuple[RunStep, ...], ...]:
    """The steps of each run, for one protocol a plant in queue order; ids are the store's to give.

    Laying out is done with the first plant of a protocol alone, standing the clean tools in alcohol with the first
    plant of the session. A tool that was used is seen to by the bench itself, which knows which one it is: such steps
    are skipped.
    """
    laid: set[Once] = set()
    found = []
    for protocol in protocols:
        found.append(tuple(RunStep(0, number, step, _state(protocol, number - 1, laid))
                           for number, step in enumerate(protocol.steps, 1)))
        laid |= {key for step in protocol.steps if (key := _once(protocol, step)) is not None}
    return tuple(found)


def _state(protocol: Protocol, at: int, laid: set[Once]) -> State:
    step = protocol.steps[at]
    used = step.deed is Deed.SOAK_TOOLS and any(earlier.tool for earlier in protocol.steps[:at])
    return State.SKIPPED if used or _once(protocol, step) in laid else State.OPEN


def _once(protocol: Protocol, step: ProtocolStep) -> Once | None:
    """What stands for a step done once: laying out for the protocol, tools for the session; None for all others."""
    if step.deed is Deed.SOAK_TOOLS and any(item.tool for item in protocol.steps):
        return "", Deed.SOAK_TOOLS.value
    return (protocol.id, step.id) if step.deed is Deed.PREPARE else None

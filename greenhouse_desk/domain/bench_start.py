"""What a start copies: each plant's steps in queue order, those done once a session only with the first plant."""

from __future__ import annotations

from collections.abc import Sequence

from greenhouse_desk.domain.bench_values import RunStep, State
from greenhouse_desk.domain.protocols import Deed, Protocol, ProtocolStep


def copies(protocols: Sequence[Protocol]) -> tuple[tuple[RunStep, ...], ...]:
    """The steps of each run, for one protocol a plant in queue order; ids are the store's to give.

    Laying out, and standing the clean tools in alcohol, is done with the first plant of a protocol alone. A tool that
    was used is seen to by the bench itself, which knows which one it is: such steps are skipped.
    """
    laid: set[tuple[str, str]] = set()
    found = []
    for protocol in protocols:
        found.append(tuple(RunStep(0, number, step, _state(protocol, number - 1, laid))
                           for number, step in enumerate(protocol.steps, 1)))
        laid |= {(protocol.id, step.id) for step in protocol.steps if _once(step)}
    return tuple(found)


def _state(protocol: Protocol, at: int, laid: set[tuple[str, str]]) -> State:
    step = protocol.steps[at]
    used = step.deed is Deed.SOAK_TOOLS and any(earlier.tool for earlier in protocol.steps[:at])
    return State.SKIPPED if used or (protocol.id, step.id) in laid else State.OPEN


def _once(step: ProtocolStep) -> bool:
    return step.deed in (Deed.PREPARE, Deed.SOAK_TOOLS)

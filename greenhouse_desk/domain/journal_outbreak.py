"""The fact that opens an outbreak; who it concerns, its washes and its end are worked out from the journals."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class OutbreakOpened:
    """An outbreak of `what` (a key of pests.toml or the grower's word) was opened for what was seen on this plant."""

    what: str

"""Treatments at the bench: choosing, preparing, starting, pressing keys, leaving, taking up and ending a session."""

from __future__ import annotations

from greenhouse_desk.services.treatments_candidates import Candidate, Move, candidates, move, proposed
from greenhouse_desk.services.treatments_choosing import Choice, Preparation, preparation, start
from greenhouse_desk.services.treatments_clock import mend_clock
from greenhouse_desk.services.treatments_ending import end, leave, missed_soak, take_up
from greenhouse_desk.services.treatments_press import note, press
from greenhouse_desk.services.treatments_record import record
from greenhouse_desk.services.treatments_sitting import OpenSitting, open_sittings, plan_left, sitting
from greenhouse_desk.services.treatments_steps import Pressed

__all__ = [
    "Candidate",
    "Choice",
    "Move",
    "OpenSitting",
    "Preparation",
    "Pressed",
    "candidates",
    "end",
    "leave",
    "mend_clock",
    "missed_soak",
    "move",
    "note",
    "open_sittings",
    "plan_left",
    "preparation",
    "press",
    "proposed",
    "record",
    "sitting",
    "start",
    "take_up",
]

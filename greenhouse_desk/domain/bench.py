"""The bench session: whose turn it is, what the hands do now, which soaks run, and what stands open at the end."""

from __future__ import annotations

from greenhouse_desk.domain.bench_board import board
from greenhouse_desk.domain.bench_choice import choose
from greenhouse_desk.domain.bench_plan import Job, Plan, PlanStep, plan, plan_left
from greenhouse_desk.domain.bench_questions import dialled
from greenhouse_desk.domain.bench_shown import Board, Cell, KeyFace, QueueRow, ToolPanel
from greenhouse_desk.domain.bench_values import (
    CELLS,
    FRESH_BLADE,
    TOOLS,
    Action,
    Instruction,
    Key,
    LooseEnd,
    LooseKind,
    PestChoice,
    Question,
    Ring,
    Run,
    RunStep,
    Sitting,
    State,
    Tool,
    ToolState,
    ToolUse,
)
from greenhouse_desk.domain.countdown import Soak

__all__ = [
    "CELLS", "FRESH_BLADE", "TOOLS", "Action", "Board", "Cell", "Instruction", "Job", "Key", "KeyFace", "LooseEnd",
    "LooseKind", "PestChoice", "Plan", "PlanStep", "Question", "QueueRow", "Ring", "Run", "RunStep", "Sitting",
    "Soak", "State", "Tool", "ToolPanel", "ToolState", "ToolUse", "board", "choose", "dialled", "plan", "plan_left",
]

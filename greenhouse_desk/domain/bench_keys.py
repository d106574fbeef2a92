"""The five keys as they read under the present instruction; a dead key says why."""

from __future__ import annotations

from greenhouse_desk.domain.bench_choice import reopenable
from greenhouse_desk.domain.bench_shown import KeyFace
from greenhouse_desk.domain.bench_turns import whose, work_left
from greenhouse_desk.domain.bench_values import Action, Instruction, Key, Sitting

NEXT_FACES = {
    Action.HANDS: ("Next", "done, go on", True),
    Action.START_SOAK: ("Leave out", "says why", True),
    Action.END_SOAK: ("Next", "the soak key ends it", False),
    Action.ANSWER: ("Accept", "keep this answer", True),
    Action.WAIT: ("Next", "nothing to do yet", False),
    Action.LOOSE_END: ("Next", "done, way out taken", True),
    Action.CLOSE: ("End", "end the session", True),
}


def faces(sitting: Sitting, instruction: Instruction) -> tuple[KeyFace, ...]:
    """The keys in the order of Key."""
    if sitting.ended_at is not None:
        return tuple(KeyFace(key, key.value.capitalize(), "the session is over", False) for key in Key)
    return (_next(instruction), _soak(sitting, instruction), _back(sitting, instruction),
            KeyFace(Key.NOTE, "Note", "phrase or own line", True), _undo(sitting, instruction))


def _next(instruction: Instruction) -> KeyFace:
    if instruction.action is Action.START_SOAK and instruction.step is None:
        return KeyFace(Key.NEXT, "Next", "the soak key starts it", False)
    return KeyFace(Key.NEXT, *NEXT_FACES[instruction.action])


def _soak(sitting: Sitting, instruction: Instruction) -> KeyFace:
    fixed = {
        Action.ANSWER: _step(instruction, ("Down", "the next answer"), "More"),
        Action.START_SOAK: ("Soak", "start the clock"),
        Action.END_SOAK: ("Soak", "end the soak"), Action.LOOSE_END: ("End", "anyway, says why"),
    }.get(instruction.action)
    if fixed is not None and not (instruction.action is Action.LOOSE_END and work_left(sitting)):
        return KeyFace(Key.SOAK, *fixed, True)
    soak = next((soak for soak in sitting.soaks if soak.id == instruction.soak), None)
    if soak is None:
        return KeyFace(Key.SOAK, "Soak", "none runs", False)
    return KeyFace(Key.SOAK, "Soak", f"end {whose(sitting, soak)} now", True)


def _back(sitting: Sitting, instruction: Instruction) -> KeyFace:
    if instruction.action is Action.ANSWER:
        return KeyFace(Key.BACK, *_step(instruction, ("Up", "the one before"), "Less"), True)
    live = reopenable(sitting, instruction.run) is not None
    return KeyFace(Key.BACK, "Back", "one step" if live else "nothing before this", live)


def _step(instruction: Instruction, in_list: tuple[str, str], word: str) -> tuple[str, str]:
    """What a key does to the answer: along a list of answers, or up and down by the step the dial has."""
    asked = instruction.question
    if asked is not None and asked.choices:
        return in_list
    by = asked.by if asked is not None else 1
    return word, f"{'one' if by == 1 else by} {word.lower()}"


def _undo(sitting: Sitting, instruction: Instruction) -> KeyFace:
    if not sitting.undo_label:
        return KeyFace(Key.UNDO, "Undo", "no press to take back", False)
    asking = instruction.action is Action.ANSWER and instruction.answered
    return KeyFace(Key.UNDO, "Undo", "the question before" if asking else "the last press", True)

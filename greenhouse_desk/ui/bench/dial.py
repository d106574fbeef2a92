"""What the hands set before a press: a dialled answer, or a note in ready phrases or typed. Values only, no Qt."""

from __future__ import annotations

from dataclasses import dataclass, replace

from greenhouse_desk.domain.bench import Question, dialled
from greenhouse_desk.domain.journal import Sharing

SHARED = {f"It shared {how.value} with the plant before": how for how in Sharing}
"""Ready phrases that are no notes: they are written as what was shared, and what one carries can reach the other."""
PHRASES = (
    "Look at this one again tomorrow.",
    "More dead roots than it seemed from above.",
    "New growth bruised while unpotting.",
    "A root tip broke off.",
    "Sits loose in its pot: tie it up.",
    "Pellets left on where roots grip them.",
    "The label needs writing anew.",
    "Take a photo of this when the hands are dry.",
    *SHARED,
)


@dataclass(frozen=True)
class Dial:
    """The answer as it stands on the dial (None: no answer yet); `typed` holds digits typed since the last other key.
    """

    question: Question
    value: int | None
    typed: str = ""

    @staticmethod
    def of(question: Question) -> Dial:
        """The dial at its start."""
        return Dial(question, question.start)

    @property
    def high(self) -> int:
        return len(self.question.choices) - 1 if self.question.choices else self.question.high

    @property
    def low(self) -> int:
        return 0 if self.question.choices else self.question.low

    def more(self) -> Dial:
        """One step up, no further than the most."""
        return self._stepped(1)

    def less(self) -> Dial:
        """One step down, no further than the least."""
        return self._stepped(-1)

    def digit(self, digit: int) -> Dial:
        """A typed digit: digits in a row make a number; one that leads too high begins anew. 1 is the first choice."""
        typed = f"{self.typed}{digit}"
        if self._read(typed) > self.high:
            typed = str(digit)
        value = self._read(typed)
        return replace(self, value=value, typed=typed) if self.low <= value <= self.high else self

    def erased(self) -> Dial:
        """The last typed digit taken back; back at the start once none is left."""
        typed = self.typed[:-1]
        value = self._read(typed) if typed else self.question.start
        return replace(self, value=value if value is None else min(max(value, self.low), self.high), typed=typed)

    @property
    def answer(self) -> int | None:
        """The answer that is kept once it is accepted; None while there is none."""
        return None if self.value is None else self.question.kept(self.value)

    @property
    def words(self) -> str:
        """The answer in words: "12 living roots", or the choice; "-" while there is none."""
        if self.value is None:
            return "-"
        if self.question.choices:
            return self.question.choices[self.value]
        return f"{self.value} {self.question.unit}".strip()

    def _read(self, typed: str) -> int:
        return int(typed) - (1 if self.question.choices else 0)

    def _stepped(self, steps: int) -> Dial:
        return replace(self, value=dialled(self.question, self.value, steps), typed="")


@dataclass(frozen=True)
class Jotter:
    """A note being made: a line being typed, in which every letter is text, or one of the ready phrases, among which
    the five keys step, keep and drop. It begins as an empty line; a space before anything else turns to the phrases."""

    plant: int | None
    chosen: int = 0
    line: str = ""
    typing: bool = True

    @property
    def empty(self) -> bool:
        """Whether a line is to be typed and nothing stands in it yet."""
        return self.typing and not self.line

    def phrases(self) -> Jotter:
        """Ready phrases instead of a line."""
        return replace(self, typing=False)

    def stepped(self, by: int) -> Jotter:
        """Another ready phrase, round and round."""
        return replace(self, chosen=(self.chosen + by) % len(PHRASES))

    def typed(self, text: str) -> Jotter:
        """Text added at the end of the line."""
        return replace(self, line=self.line + text, typing=True)

    def erased(self) -> Jotter:
        """The last character taken back."""
        return replace(self, line=self.line[:-1])

    @property
    def text(self) -> str:
        """What would be kept."""
        return self.line.strip() if self.typing else PHRASES[self.chosen]

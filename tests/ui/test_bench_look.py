"""What bench mode paints, measured on the painted picture: digits in millimetres, contrast, nothing cut off."""

from __future__ import annotations

from dataclasses import replace
from zoneinfo import ZoneInfo

import pytest
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from greenhouse_desk.domain.bench import Action, Key, QueueRow, Sitting, ToolPanel, board
from greenhouse_desk.services.shelf import shelf
from greenhouse_desk.ui import fonts, style
from greenhouse_desk.ui.bench.callings import Hands, Sure
from greenhouse_desk.ui.bench.cells import CellView
from greenhouse_desk.ui.bench.dial import Dial
from greenhouse_desk.ui.bench.face import BenchFace
from greenhouse_desk.ui.bench.instruction import InstructionView
from greenhouse_desk.ui.bench.keymap import KeyMap
from greenhouse_desk.ui.bench.leaving import Leaving, LeavingPainter, Open
from greenhouse_desk.ui.bench.queue import open_only, standing_words
from greenhouse_desk.ui.bench.sizes import SERIF_CAP
from greenhouse_desk.ui.style import HEX
from tests.builders import NOW
from tests.ui.bench_builders import asking, run, sitting, soak

ZONE = ZoneInfo("Europe/London")
SCREENS = [(1366, 768, 96.0), (1366, 768, 112.0), (1920, 1080, 157.0), (1920, 1080, 92.0), (2560, 1440, 109.0),
           (1366, 768, 135.0)]


@pytest.fixture(autouse=True)
def _faces(qapp: object) -> None:
    assert fonts.load() == ()


class Shown:
    """A painted bench face. Keeps its parent alive."""

    def __init__(self, qtbot: QtBot, of: Sitting, screen: tuple[int, int, float]) -> None:
        self.parent = QWidget()
        qtbot.addWidget(self.parent)
        width, height, dpi = screen
        self.parent.resize(width, height)
        self.face = BenchFace(KeyMap(), self.parent, dpi)
        self.face.resize(width, height)
        self.parent.show()
        self.face.show_board(board(of, NOW, ZONE), Hands(), ())

    def cell(self, n: int) -> CellView:
        return self.face.cells[n]


def ink_rows(picture: QImage, ink: QColor, top: float, bottom: float) -> int:
    """How many rows of the picture between `top` and `bottom` hold pixels of this ink, first to last."""
    found = [y for y in range(round(top), round(bottom))
             if any(picture.pixelColor(x, y) == ink for x in range(20, picture.width() - 20))]
    return found[-1] - found[0] + 1 if found else 0


@pytest.mark.parametrize("screen", SCREENS)
@pytest.mark.parametrize("minutes", [1.0, 14.3, 40.0])
def test_painted_digits_are_18_mm_high(qtbot: QtBot, screen: tuple[int, int, float], minutes: float) -> None:
    """The longest digits too, such as +28:00: they become narrower, not lower."""
    shown = Shown(qtbot, sitting(run(104, 2, True), soaks=(soak(104, minutes),)), screen)
    view, sizes = shown.cell(0), shown.face.sizes
    ink = QColor(HEX["on_plate"][1] if minutes > 12 else HEX["ink"][1])
    picture = view.grab().toImage()
    high = ink_rows(picture, ink, sizes.u(88), picture.height() - sizes.u(32))
    assert high / sizes.px_per_mm >= 17.9, f"{high} rows"


@pytest.mark.parametrize("screen", SCREENS)
def test_every_shipped_instruction_fits_uncut_at_1_5_m(qtbot: QtBot, screen: tuple[int, int, float]) -> None:
    shown = Shown(qtbot, sitting(run(104)), screen)
    view: InstructionView = shown.face.call
    sizes = shown.face.sizes
    room = shown.face.width() - 2 * sizes.margin - sizes.u(196 + 20 + 163)
    for protocol in shelf(None).protocols:
        for step in protocol.steps:
            lines = view.lines(step.say, room)
            assert " ".join(lines.lines) == step.say
            assert lines.font.pixelSize() * SERIF_CAP / sizes.px_per_mm >= 8.73, step.say
            assert lines.height <= sizes.u(124), step.say


def test_the_instruction_is_larger_than_an_overdue_cell(qtbot: QtBot) -> None:
    """The alarm turns the whole screen; the instruction stays the largest inverted thing on it."""
    late = sitting(run(104, 2, True), soaks=(soak(104, 14.3),))
    shown = Shown(qtbot, late, SCREENS[0])
    assert board(late, NOW, ZONE).instruction.action is Action.END_SOAK
    call, cell = shown.face.call, shown.cell(0)
    assert call.width() * call.height() > 1.5 * cell.width() * cell.height()
    corner = shown.face.grab().toImage().pixelColor(shown.face.width() // 2, 2)
    assert corner == QColor(HEX["madder"][1])
    ground = shown.face.grab().toImage().pixelColor(round(shown.face.sizes.u(17)), shown.face.height() // 2)
    assert ground == QColor(HEX["madder_fill"][1])


def test_a_loose_end_stands_as_the_one_instruction_and_ending_all_the_same_is_asked_twice(qtbot: QtBot) -> None:
    open_cut = sitting(run(104, 4), cuts_open=frozenset({104}))
    shown = Shown(qtbot, open_cut, SCREENS[0])
    assert shown.face.call.accessibleName() == "104: Dress the cuts of 104"
    left = "104 has an undressed cut. Dress the cuts of 104. Press again to do it all the same; it is recorded."
    shown.face.show_board(board(open_cut, NOW, ZONE), Hands(sure=Sure(Key.SOAK, left, NOW)), ())
    assert shown.face.call.accessibleName() == "104: Something is still open"
    assert shown.face.call.accessibleDescription().startswith("Press S again to end all the same; that is recorded.")
    assert shown.face.detail.accessibleDescription() == left


def test_what_is_not_possible_now_says_so(qtbot: QtBot) -> None:
    shown = Shown(qtbot, sitting(run(104)), SCREENS[0])
    assert shown.face.keys[Key.SOAK].accessibleDescription() == "not now: none runs"


def test_nothing_can_be_accepted_before_something_is_dialled_and_the_key_says_so(qtbot: QtBot) -> None:
    shown = Shown(qtbot, sitting(asking(run(104, 1))), SCREENS[0])
    at = board(sitting(asking(run(104, 1))), NOW, ZONE)
    assert at.instruction.question is not None
    dial = Dial.of(at.instruction.question)
    for hands, says in ((Hands(dial), "not now: no answer yet"), (Hands(dial.more()), "keep this answer")):
        shown.face.show_board(at, hands, ())
        assert shown.face.keys[Key.NEXT].accessibleDescription() == says
    assert shown.face.detail.accessibleName() == "Answer: 0"


@pytest.mark.parametrize("soaks", [4, 5])
def test_the_step_in_full_stands_in_what_the_countdowns_leave(qtbot: QtBot, soaks: int) -> None:
    plants = range(104, 104 + soaks)
    shown = Shown(qtbot, sitting(*(run(n, 2, True) for n in plants), run(121), soaks=tuple(soak(n, 1) for n in plants)),
                  SCREENS[0])
    detail = shown.face.detail
    assert detail.isVisible()
    assert detail.accessibleName() == "The step in full"
    assert not any(view.isVisible() and view.geometry().intersects(detail.geometry()) for view in shown.face.cells)


@pytest.mark.parametrize("screen", [*SCREENS, (683, 384, 48.0)])
def test_the_tool_panel_holds_all_it_says(qtbot: QtBot, screen: tuple[int, int, float]) -> None:
    shown = Shown(qtbot, sitting(run(104)), screen)
    view, sizes = shown.face.tool, shown.face.sizes
    view.resized(sizes)
    view.resize(round(sizes.queue), round(sizes.u(146)))
    for detail, keep in (("touched 104: ethanol now", ""),
                         ("already on 104", "cutter B stays in its soak until 15:48"),
                         ("virus signs: for this plant only; ethanol does not clear viruses, use another agent",
                          "cutter B is for 121 only; cutter A stays in its soak until 15:48")):
        lines = view.lines(ToolPanel("not clean yet", "cutter A", detail, keep))
        assert sizes.u(10) + sum(part.height + sizes.u(2) for part in lines) <= view.height() + 1


@pytest.mark.parametrize("still", ["cut open", "cut open, roots bare"])
@pytest.mark.parametrize("standing", ["clear", "under treatment"])
def test_an_open_cut_stands_in_the_queue_beside_what_the_plant_may_carry(standing: str, still: str) -> None:
    row = QueueRow(1, 104, standing, "", "next: soak", False, False, still)
    assert standing_words(row) == (still if standing == "clear" else f"{standing}, {still}")
    assert open_only(row) is (standing == "clear")


@pytest.mark.parametrize("screen", [*SCREENS, (683, 384, 48.0)])
def test_the_words_of_the_keys_are_not_cut(qtbot: QtBot, screen: tuple[int, int, float]) -> None:
    shown = Shown(qtbot, sitting(run(104)), screen)
    for view in (*shown.face.keys.values(), shown.face.leave_key):
        assert view.shown_word() == view.face.word


def _luminance(colour: str) -> float:
    def linear(part: float) -> float:
        return part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4

    of = QColor(colour)
    return 0.2126 * linear(of.redF()) + 0.7152 * linear(of.greenF()) + 0.0722 * linear(of.blueF())


def contrast(one: str, two: str) -> float:
    """Contrast ratio as W3C's WCAG 2.2 defines it (published)."""
    light, dark = sorted((_luminance(one), _luminance(two)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize(("ink", "ground"), [
    ("ink", "bench"), ("ink2", "bench"), ("duskink", "bench"), ("clean", "bench"), ("due", "bench"),
    ("madder", "bench"), ("ink2", "madder_fill"),
    ("ink", "sheet"), ("ink2", "sheet"), ("water", "sheet"), ("clean", "sheet"), ("on_plate", "madder"),
    ("on_plate", "due_fill"), ("on_plate", "plate"), ("ink", "madder_fill"), ("clean", "madder_fill"),
    ("due", "madder_fill"), ("madder", "madder_fill"), ("water", "madder_fill")])
def test_every_word_of_bench_mode_has_a_contrast_of_seven(ink: str, ground: str) -> None:
    assert contrast(HEX[ink][1], HEX[ground][1]) >= 7


@pytest.mark.parametrize("ink", ["clean", "due", "madder", "water"])
def test_coloured_words_on_a_plate_use_the_light_hex(ink: str) -> None:
    assert style.palette(True).on_plate_ink(ink) == QColor(HEX[ink][0])
    assert contrast(HEX[ink][0], HEX["plate"][1]) >= 7


@pytest.mark.parametrize("screen", SCREENS)
def test_all_that_stands_open_is_named_uncut_and_large_on_leaving(
        qtbot: QtBot, screen: tuple[int, int, float]) -> None:
    plants = range(104, 110)
    at = sitting(*(run(n, 2, True) for n in plants), soaks=tuple(soak(n, 1) for n in plants),
                 unpotted=frozenset(plants), cuts_open=frozenset({104}), wet=frozenset({105}))
    shown = Shown(qtbot, at, screen)
    seen = board(at, NOW, ZONE)
    shown.face.show_board(seen, Hands(leaving=True), ())
    view, page = shown.face.detail, shown.face.detail.value
    assert isinstance(page, Leaving)
    assert page.ends[0] == Open("Roots bare: 104, 105, 106, 107, 108, 109", "Pot each of them up")
    assert [end.what for end in page.ends[1:3]] == ["104 has an undressed cut", "105 is wet without moving air"]
    assert page.ends[3] == Open("104 is still in its soak: roots in peroxide, least in 9:00", "End the soak of 104")
    hidden: tuple[QWidget, ...] = (*shown.face.cells, shown.face.queue, shown.face.tool)
    assert not any(pane.isVisible() for pane in hidden)
    painter = LeavingPainter(QPainter(), QColor("white"), shown.face.sizes)
    room = view.height() - shown.face.sizes.u(80)
    for some, least in ((replace(page, ends=page.ends[1:5]), 34), (page, 18)):
        rows, columns, high = painter.grid(len(some.ends), room)
        assert rows * columns >= len(some.ends)
        for end in some.ends:
            what, way = painter.lines(end, view.width() / columns - shown.face.sizes.u(64), high)
            assert " ".join(what.lines) == end.what
            assert way.lines == (f"Way out: {end.way_out}",)
            assert what.font.pixelSize() >= shown.face.sizes.letters(least)
            assert what.height + way.height <= high

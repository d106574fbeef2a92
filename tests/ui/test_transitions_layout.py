"""The calendar of courses painted at any width: no two words overlap, and none leaves the chart."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta
from math import inf

import pytest
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QFont, QImage, QPainter
from pytestqt.qtbot import QtBot

from greenhouse_desk.domain import names
from greenhouse_desk.domain.care_values import Care, CareKind, Reason
from greenhouse_desk.domain.courses_coming import coming
from greenhouse_desk.domain.courses_forecast import NoOutlook, Outlook
from greenhouse_desk.domain.courses_outcomes import outcomes
from greenhouse_desk.domain.courses_values import Course, End, Judged, Look, Verdict
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.services.transitions import Overview, Row, curve
from greenhouse_desk.ui import drawing, style
from greenhouse_desk.ui.transitions import told
from greenhouse_desk.ui.transitions.curve import CurveView
from greenhouse_desk.ui.transitions.key_line import KeyLine
from greenhouse_desk.ui.transitions.paint import CalendarPainter
from greenhouse_desk.ui.transitions.space import HEAD, height, space
from tests.builders import NOW

TODAY = NOW.date()
WHY = (Reason("because", "here"),)
NAMES = ("Phalaenopsis amabilis", "× Brassolaeliocattleya Golden Tang 'A Very Long Name Indeed'", "Stelis gelida",
         "Bulbophyllum falcatum var. velutinum", "unnamed seedling 4")
MEDIA = ("bark", "sphagnum moss and coarse bark", "")
VERDICTS = (Verdict.STAY, Verdict.AGAIN, Verdict.STEP_IN, Verdict.SETTLED)


@dataclass(frozen=True)
class Said:
    """Words as they were painted: their rectangle on the chart."""

    words: str
    room: QRectF


def course(dice: random.Random, plant: int) -> Course:
    ago = dice.randint(0, 320)
    end = dice.choice((End.RUNNING, End.RUNNING, End.RUNNING, End.SETTLED, End.DIED, End.MOVED))
    last = TODAY - timedelta(days=0 if end is End.RUNNING else dice.randint(0, min(60, ago)))
    start = TODAY - timedelta(days=ago)
    days = sorted(dice.sample(range(1, ago), min(dice.randint(0, 9), ago - 1))) if ago > 2 else []
    looks = tuple(Judged(Look(start + timedelta(days=day), NOW, day), verdict, verdict,
                         dice.choice(("leaves limp", "dead share from 8 to 25 %, no new tip in 12 weeks")), WHY)
                  for day in days if start + timedelta(days=day) <= last for verdict in (dice.choice(VERDICTS),))
    return Course(plant, "Genus", plant, start, dice.choice(MEDIA), "fine clay pellets", looks, end, last)


def outlook(dice: random.Random, days: int) -> Outlook | NoOutlook:
    if dice.random() < 0.3:
        return NoOutlook(WHY)
    ends = sorted(days + dice.choice((0, 2, 30, 90, 400)) + dice.random() for _ in range(5))
    if dice.random() < 0.3:
        ends[3:] = [inf, inf]
    early, quarter, likely, three, late = ends
    return Outlook(early, quarter, likely, three, late, "all your plants", 9, (), WHY)


def row(dice: random.Random, plant: int) -> Row:
    found = course(dice, plant)
    if found.end is not End.RUNNING:
        return Row(found, names.parse(dice.choice(NAMES)), (), None)
    due = TODAY + timedelta(days=dice.randint(-9, 40))
    looks = (Care(plant, CareKind.ROOT_CHECK, "look", "root check", due, due, due, WHY, plant),) * dice.randint(0, 1)
    return Row(found, names.parse(dice.choice(NAMES)), looks, outlook(dice, found.days))


@pytest.mark.parametrize(("verdict", "said"), [
    (Verdict.STAY, "likely 18 Dec"), (Verdict.STEP_IN, "18 Dec if it follows the others")])
def test_a_plant_to_step_in_on_has_no_day_without_an_if(verdict: Verdict, said: str) -> None:
    begun = TODAY - timedelta(days=30)
    look = Judged(Look(TODAY, NOW, 30), verdict, verdict, "7 of 10 dead", WHY)
    going = Course(101, "Genus", 1, begun, "bark", "clay pellets", (look,), End.RUNNING, TODAY)
    shown = Row(going, names.parse("Stelis gelida"), (), Outlook(40, 50, 60, 70, 80, "all your plants", 9, (), WHY))
    assert told.likely(shown, TODAY) == said
    assert ("if it follows the others" in told.row_words(shown, TODAY)) == (verdict is Verdict.STEP_IN)


def overview(dice: random.Random) -> Overview:
    rows = tuple(row(dice, 100 + n) for n in range(dice.randint(0, 14)))
    return Overview(TODAY, rows, len(rows), curve([one.course for one in rows]), outcomes(()),
                    coming((), TODAY, NOW.tzinfo or NOW.astimezone().tzinfo, HouseRules()), ())  # type: ignore[arg-type]


def placed(rect: QRectF, words: str, font: QFont, align: Qt.AlignmentFlag) -> QRectF:
    wide = min(drawing.width_of(words, font), rect.width())
    left = rect.left()
    if align & Qt.AlignmentFlag.AlignHCenter:
        left += (rect.width() - wide) / 2
    if align & Qt.AlignmentFlag.AlignRight:
        left = rect.right() - wide
    return QRectF(left, rect.center().y() - font.pixelSize() * 0.45, wide, font.pixelSize() * 0.9)


@pytest.fixture
def painted(monkeypatch: pytest.MonkeyPatch, qtbot: QtBot) -> list[Said]:
    """What is painted from here on, word by word."""
    said: list[Said] = []
    whole = drawing.text

    def text(painter: QPainter, rect: QRectF, words: str, font: QFont, ink: object, align: Qt.AlignmentFlag =
             Qt.AlignmentFlag.AlignLeft) -> None:
        if words:
            said.append(Said(words, painter.transform().mapRect(placed(rect, words, font, align))))
        whole(painter, rect, words, font, ink, align)  # type: ignore[arg-type]

    def block(painter: QPainter, rect: QRectF, name: names.BotanicalName, *_rest: object) -> float:
        wide = sum(drawing.width_of(run.text, run.font) for run in drawing.name_lines(name, 15, rect.width(), 1)[0])
        said.append(Said(name.plain, QRectF(rect.left(), rect.top() + 3, min(wide, rect.width() + 4), 14)))
        return rect.bottom()

    monkeypatch.setattr(drawing, "text", text)
    monkeypatch.setattr(drawing, "name_block", block)
    return said


def paint(shown: Overview, width: int, moved: tuple[int, date] | None = None) -> None:
    floor = height(shown.rows)
    image = QImage(width, round(floor), QImage.Format.Format_RGB32)
    painter = QPainter(image)
    CalendarPainter(painter, style.palette(False), shown, space(shown, width), 0.0, floor).paint(None, False, moved)
    painter.end()


def clashes(said: list[Said], but: Callable[[str], bool] = lambda _words: False) -> list[tuple[str, str]]:
    told = [one for one in said if not but(one.words)]
    return [(one.words, other.words) for place, one in enumerate(told) for other in told[place + 1:]
            if one.room.intersected(other.room).width() > 1 and one.room.intersected(other.room).height() > 1]


@pytest.mark.parametrize("width", [590, 683, 899, 900, 1120, 1500, 2400])
def test_no_two_words_overlap_and_none_leaves_the_chart(width: int, painted: list[Said]) -> None:
    dice = random.Random(width)
    for _ in range(30):
        painted.clear()
        shown = overview(dice)
        paint(shown, width)
        assert clashes(painted) == []
        floor = height(shown.rows)
        assert [one.words for one in painted if one.room.left() < 0 or one.room.right() > width + 1
                or one.room.bottom() > floor] == []
        assert sum(one.room.top() < HEAD for one in painted) >= 6, "the head with at least three months"


def test_an_overlap_would_be_seen(painted: list[Said], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(told, "media", lambda _row: "x" * 40)
    monkeypatch.setattr(drawing, "width_of", lambda words, _font: 9.0 * len(words))
    painted.append(Said("a", QRectF(0, 0, 30, 10)))
    painted.append(Said("b", QRectF(20, 5, 30, 10)))
    assert clashes(painted) == [("a", "b")]


@pytest.mark.parametrize("width", [260, 380, 700])
def test_the_curve_and_the_key_keep_their_words_apart(width: int, painted: list[Said], qtbot: QtBot) -> None:
    dice = random.Random(width)
    for _ in range(20):
        past = [Course(n, "", n, TODAY - timedelta(days=400), "", "", (), End.SETTLED,
                       TODAY - timedelta(days=400 - dice.randint(1, 200))) for n in range(dice.randint(0, 30))]
        view = CurveView(style.palette(False))
        qtbot.addWidget(view)
        view.resize(width, 170)
        view.show_curve(curve(past), dice.choice((row(dice, 123), None)))
        painted.clear()
        view.grab()
        assert clashes(painted) == []
    key = KeyLine(style.palette(False))
    qtbot.addWidget(key)
    key.resize(width, key.heightForWidth(width))
    painted.clear()
    key.grab()
    assert clashes(painted) == []
    assert all(one.room.bottom() <= key.height() for one in painted)

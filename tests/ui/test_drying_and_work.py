"""The drying countdown's words, care said by when, work off the window's thread, photos kept by content and size."""

from __future__ import annotations

import sys
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from PySide6.QtCore import QSize
from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from greenhouse_desk.domain.care import Care, CareKind, Drying, Reason
from greenhouse_desk.domain.journal import Part, Purpose, Sharing
from greenhouse_desk.domain.journal_course import Leaves
from greenhouse_desk.domain.journal_year import Light, Phase
from greenhouse_desk.domain.names import parse
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.ui import drawing, fonts, thumbnails, words
from greenhouse_desk.ui.collection.care_rows import Stand, row_of
from greenhouse_desk.ui.collection.drying import said
from greenhouse_desk.ui.collection.entry_forms import FORMS, Names, given_of
from greenhouse_desk.ui.style import sans
from greenhouse_desk.ui.tasks import Tasks, as_refusal
from greenhouse_desk.ui.thumbnails import Thumbnails
from tests.builders import NOW, entry
from tests.ui.house import picture

UTC_ZONE = ZoneInfo("UTC")
TODAY = NOW.date()


def drying(limit_h: float | None = 1.0, pool: bool = False, aired: bool = False, dries: bool = True) -> Drying:
    """Wet since an hour before NOW, the limit so many hours after it."""
    return Drying(NOW - timedelta(hours=1), NOW + timedelta(hours=1) if dries else None,
                  NOW + timedelta(hours=3) if dries else None,
                  None if limit_h is None else NOW + timedelta(hours=limit_h), "dusk", pool, aired)


def care(due: date, latest: date | None = None, hold: bool = False, what: str = "Look at the cut") -> Care:
    """A care on these days."""
    return Care(101, CareKind.CUT_CHECK, what, "cut check", due, due, latest, (Reason("because", "here"),), 1,
                hold=hold)


def test_the_countdown_runs_to_the_limit_and_then_up() -> None:
    before = said(drying(1.0), NOW, UTC_ZONE)
    assert (before.digits, before.until, before.limit) == ("1:00:00", "to", "dusk 16:30")
    assert before.estimate == "likely dry 16:30 to 18:30"
    assert before.now_do == "put the fan on"
    after = said(drying(1.0), NOW + timedelta(hours=1, minutes=12, seconds=5), UTC_ZONE)
    assert (after.digits, after.until, after.late) == ("+0:12:05", "past", True)


def test_a_pool_is_blotted_first_and_never_said_to_dry() -> None:
    told = said(drying(pool=True), NOW, UTC_ZONE)
    assert told.now_do == "blot first"
    assert "likely dry" not in told.estimate


def test_air_that_dries_nothing_and_a_day_without_dusk_are_said() -> None:
    told = said(drying(None, aired=True, dries=False), NOW, UTC_ZONE)
    assert told.digits == "+1:00:00" or told.digits == "1:00:00"
    assert told.until == "wet since"
    assert told.estimate == "does not dry in this air"
    assert told.now_do == "air is on: feel the crown"


@pytest.mark.parametrize(("owed", "mark", "when"), [
    (care(TODAY), "today", "today"),
    (care(TODAY + timedelta(days=1)), "tomorrow", "tomorrow"),
    (care(TODAY + timedelta(days=9)), "later", "27 Nov"),
    (care(TODAY + timedelta(days=9), hold=True), "hold", "until 27 Nov"),
    (care(TODAY - timedelta(days=3), TODAY - timedelta(days=1)), "over", "1 day over"),
    (care(TODAY - timedelta(days=9), TODAY - timedelta(days=5)), "over", "5 days over"),
])
def test_a_care_row_says_when(owed: Care, mark: str, when: str) -> None:
    row = row_of(owed, Stand(parse("Cattleya")), NOW, UTC_ZONE)
    assert (row.mark, row.when) == (mark, when)


@pytest.mark.parametrize(("owed", "when"), [
    (care(TODAY), "today"), (care(TODAY + timedelta(days=1)), "tomorrow"),
    (care(TODAY - timedelta(days=3), TODAY - timedelta(days=1)), "1 day over"),
    (care(TODAY - timedelta(days=9), TODAY + timedelta(days=1)), "by tomorrow")])
def test_a_care_row_counts_by_care_days_until_the_day_ends(owed: Care, when: str) -> None:
    """At two in the morning it is still the evening before, where the day ends at four; not where it ends at one."""
    late = datetime.combine(TODAY, time(2), UTC) + timedelta(days=1)
    assert row_of(owed, Stand(parse("Cattleya")), late, UTC_ZONE, HouseRules(day_ends_at_hour=4)).when == when
    assert row_of(owed, Stand(parse("Cattleya")), late, UTC_ZONE, HouseRules(day_ends_at_hour=1)).when != when


def test_what_and_more_are_told_apart() -> None:
    row = row_of(care(TODAY, what="Plain water only: bare roots burn"), Stand(parse("Cattleya")), NOW, UTC_ZONE)
    assert (row.what, row.more) == ("Plain water only", "Bare roots burn")


@pytest.fixture
def faces(qapp: QApplication) -> None:
    """The program's own faces, on which widths rest."""
    assert fonts.load() == ()


def test_words_are_cut_before_their_date_never_the_date(faces: None) -> None:
    font = sans(14, 600)
    full = "repeat the long wash until 13 Dec"
    for width in range(90, 260, 7):
        cut = drawing.fitted(full, font, width)
        assert cut.endswith("until 13 Dec")
        assert drawing.width_of(cut, font) <= width + 1


def test_a_name_is_cut_at_its_clone_and_never_wider_than_its_room(faces: None) -> None:
    name = parse("Rhyncholaeliocattleya Invented Grex 'A Very Long Clone Indeed'")
    rows = drawing.name_lines(name, 16, 150, 2)
    assert len(rows) == 2
    assert rows[-1][-1].text.endswith("…")
    for row in rows:
        assert sum(drawing.width_of(run.text.rstrip(), run.font) for run in row) <= 150 + 12
    assert rows[0][0].font.italic()


def test_a_clone_stands_in_opening_and_closing_quotes(faces: None) -> None:
    text = "".join(run.text for row in drawing.name_lines(parse("Cattleya walkeriana 'Slate'"), 16, 400, 1)
                   for run in row)
    assert "‘Slate’" in text


@pytest.mark.parametrize(("seconds", "told"), [(59, "0 min"), (102 * 60, "1 h 42"), (3 * 86400, "3 days")])
def test_stretches(seconds: int, told: str) -> None:
    assert words.stretch(timedelta(seconds=seconds)) == told


def test_moments_say_the_day_only_when_it_is_another() -> None:
    assert words.moment(NOW, NOW, UTC_ZONE) == "15:30"
    assert words.moment(NOW - timedelta(days=1), NOW, UTC_ZONE) == "17 Nov 15:30"
    assert words.moment(date(2025, 3, 4), NOW, UTC_ZONE) == "4 Mar 2025"


def test_every_entry_form_makes_facts_that_fill_it_again() -> None:
    given = {"text": "leans", "clean": True, "lens": "10x", "what": "mealybug", "stage": "", "where": "", "count": 2,
             "living": 1, "dead": 0, "new_tips": 0, "removed_percent": 0, "feed": False, "half_strength": False,
             "ml": None, "parts": (), "pool": False, "medium": "bark", "pot": "", "transition": False,
             "agent": "cinnamon powder", "purpose": Purpose.PEST_WASH, "strength": 3.0, "minutes": None,
             "part": Part.SPIKE, "roots": None, "leaves": Leaves.LIMP, "stand": None, "crown": None, "smell": None,
             "growing": None, "positive": True, "by": "a laboratory", "test": "", "how": Sharing.TRAY,
             "plants": "102, 103", "days": 3, "phase": Phase.BEGINS, "dry": True, "to": Light.SHADE}
    known = Names({"mealybugs": "mealybug"}, {"cinnamon": "cinnamon powder"}, {"cinnamon": "cinnamon powder"})
    for form in FORMS.values():
        facts = form.build(dict(given), known)
        again = given_of(entry(facts), known)
        assert {name: again[name] for name in (field.name for field in form.fields)} == {
            name: given[name] for name in (field.name for field in form.fields)}


def test_work_comes_back_under_its_key_and_dropped_work_does_not(qtbot: QtBot) -> None:
    tasks = Tasks()
    heard: list[tuple[object, object]] = []
    tasks.done.connect(lambda key, answer: heard.append((key, answer)))
    tasks.ask("dropped", lambda: 1)
    tasks.drop("dropped")
    with qtbot.waitSignal(tasks.done, timeout=5_000):
        tasks.ask("kept", lambda: 2)
    assert heard == [("kept", 2)]
    tasks.close()


def test_work_that_fails_is_told(qtbot: QtBot) -> None:
    def fail() -> None:
        raise OSError("gone")

    tasks = Tasks()
    with qtbot.waitSignal(tasks.failed, timeout=5_000) as told:
        tasks.ask("bad", fail)
    assert str(told.args[1]) == "gone"
    tasks.close()


def test_a_bug_in_work_is_told_by_the_fault_dialog_and_answers_its_key(
        qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    """What nobody foresaw, on the pool: it must not leave a sheet waiting, nor pass for a full disk."""
    met: list[BaseException] = []
    nothing: dict[str, str] = {}
    monkeypatch.setattr(sys, "excepthook", lambda _kind, error, _trace: met.append(error))
    tasks = Tasks()
    with qtbot.waitSignal(tasks.failed, timeout=5_000) as told:
        tasks.ask("bad", nothing.popitem)
    assert [type(error) for error in met] == [KeyError]
    assert told.args[0] == "bad"
    told_as = as_refusal("The file cannot be written", told.args[1])
    assert (told_as.title, "empty" in told_as.detail, "disk" in told_as.next_step) == (
        "The file cannot be written", False, False)
    assert "fault of the program" in told_as.detail
    with qtbot.waitSignal(tasks.done, timeout=5_000):
        tasks.ask("bad", lambda: 1)
    tasks.close()


def test_a_thumbnail_keeps_the_lower_edge_and_is_kept_on_disk(tmp_path: Path) -> None:
    image = QImage(400, 600, QImage.Format.Format_RGB32)
    image.fill(QColor("#ffffff"))
    for y in range(570, 600):
        for x in range(400):
            image.setPixelColor(x, y, QColor("#000000"))
    assert image.save(str(tmp_path / "tall.png"))
    kept = tmp_path / "cache" / "t.jpg"
    made = thumbnails.make(tmp_path / "tall.png", kept, QSize(168, 126))
    assert made.size() == QSize(168, 126)
    assert made.pixelColor(84, 123).lightness() < 60
    assert made.pixelColor(84, 3).lightness() > 200
    (tmp_path / "tall.png").unlink()
    assert thumbnails.make(tmp_path / "tall.png", kept, QSize(168, 126)).size() == QSize(168, 126)
    assert [path.name for path in kept.parent.iterdir()] == ["t.jpg"]


def test_a_thumbnail_comes_when_it_is_ready_and_a_broken_one_is_asked_once(tmp_path: Path, qtbot: QtBot) -> None:
    picture(tmp_path / "good.png")
    (tmp_path / "bad.png").write_text("no picture")
    thumbs = Thumbnails(lambda sha256: tmp_path / f"{sha256}.png", tmp_path / "cache")
    assert thumbs.pixmap("good", QSize(60, 45), 2.0) is None
    qtbot.waitUntil(lambda: thumbs.pixmap("good", QSize(60, 45), 2.0) is not None, timeout=5_000)
    held = thumbs.pixmap("good", QSize(60, 45), 2.0)
    assert held is not None
    assert (held.width(), held.devicePixelRatio()) == (120, 2.0)
    with qtbot.waitSignal(thumbs._tasks.failed, timeout=5_000):
        assert thumbs.pixmap("bad", QSize(60, 45)) is None
    assert thumbs.pixmap("bad", QSize(60, 45)) is None
    assert not thumbs._tasks._asked
    thumbs.close()




@pytest.mark.parametrize(("pool", "brief"), [(False, "After the rinse: air until dry"),
                                             (True, "After the rinse: blot, then air until dry")])
def test_air_comes_after_the_rinse_where_an_agent_is_on_the_plant(pool: bool, brief: str) -> None:
    wet = replace(care(TODAY), kind=CareKind.AIR, drying=replace(drying(pool=pool), after_rinse=True))
    assert row_of(wet, Stand(parse("Cattleya")), NOW, UTC_ZONE).brief == brief

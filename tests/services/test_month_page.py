"""The month page: every care on its day, what is late on today's, and no words outside their box."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from greenhouse_desk.domain.journal import Cut, Part, Potted, Wetted
from greenhouse_desk.domain.paper import Extent, Face, Group, Words
from greenhouse_desk.services import collection, records
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.month_page import heights, lines, month_page, shortened


def measure(text: str, face: Face) -> Extent:
    """A face in which every letter is as wide as it is high."""
    return Extent(0, len(text) * face.letter, -face.letter, 0, len(text) * face.letter)


@pytest.fixture
def owing(desk: Desk, clock: SteppedClock) -> Desk:
    for number in (101, 102, 103):
        desk.run(collection.add_plant, NewPlant("Phalaenopsis amabilis", number))
    for number in (101, 102):
        desk.run(records.add, number, Potted("clay pellets", transition=True), clock.now() - timedelta(days=20))
    desk.run(records.add, 103, Wetted((Part.CROWN,)), clock.now() - timedelta(days=1))
    desk.run(records.add, 103, Cut(Part.SPIKE))
    return desk


def words(desk: Desk, month: date) -> list[Words]:
    page = desk.read(month_page, desk.clock(), month, measure)
    assert (page.width, page.height) == (297, 210)
    return [item for item in page.items if isinstance(item, Words)]


def test_care_of_one_kind_stands_together_on_its_day_and_late_care_on_today(owing: Desk) -> None:
    said = [one.text for one in words(owing, date(2026, 11, 1))]
    assert said[0] == "November 2026"
    assert "18  today" in said
    after = said.index("18  today") + 1
    today = said[after:said.index("19")]
    assert "root check: 101," in " ".join(" ".join(today).split()), "due on the 12th, not taken yet"
    next_day = " ".join(" ".join(said[said.index("19"):said.index("20")]).split())
    assert "crown check: 103" in next_day


def test_a_window_of_whole_months_is_never_late_and_stands_on_its_last_day(owing: Desk, clock: SteppedClock) -> None:
    owing.run(collection.add_plant, NewPlant("Phalaenopsis amabilis", 104, acquired_on=date(2020, 5, 1)))
    clock.advance(86400 * 160)
    assert not any("repot window" in one.text for one in words(owing, date(2027, 4, 1)))
    said = [one.text for one in words(owing, date(2027, 7, 1))]
    assert "repot window: 104" in " ".join(" ".join(said[said.index("31"):]).split())


def test_a_later_month_has_its_days_only(owing: Desk) -> None:
    said = [one.text for one in words(owing, date(2026, 12, 1))]
    assert [text for text in said if text.isdigit()] == [str(day) for day in range(1, 32)]
    assert not any("today" in text and text[0].isdigit() for text in said)


def test_no_words_leave_their_box(owing: Desk, clock: SteppedClock) -> None:
    for number in range(104, 150):
        owing.run(collection.add_plant, NewPlant("Phalaenopsis amabilis", number))
        owing.run(records.add, number, Wetted((Part.CROWN,)), clock.now() - timedelta(days=1))
    page = owing.read(month_page, clock.now(), date(2026, 11, 1), measure)
    boxes = [item for item in page.items if isinstance(item, Group)]
    assert len(boxes) == 42
    cells = [(box.x, box.y, box.items[0].x2, box.items[1].y2) for box in boxes]  # type: ignore[union-attr]
    for one in page.items:
        if isinstance(one, Words) and ":" in one.text:
            x, y, wide, high = next(cell for cell in cells if cell[0] <= one.x < cell[0] + cell[2]
                                    and cell[1] <= one.y < cell[1] + cell[3])
            assert one.x + measure(one.text, one.face).advance <= x + wide
            assert one.y <= y + high - 1


def test_care_of_a_day_is_written_as_large_as_all_of_it_fits(owing: Desk, clock: SteppedClock) -> None:
    def letters() -> list[float]:
        page = owing.read(month_page, clock.now(), date(2026, 11, 1), measure)
        return sorted({one.face.letter for one in page.items if isinstance(one, Words) and "check:" in one.text})

    assert letters() == [2.3]
    for number in range(104, 200):
        owing.run(collection.add_plant, NewPlant("Phalaenopsis amabilis", number))
        owing.run(records.add, number, Wetted((Part.CROWN,)), clock.now() - timedelta(days=1))
    assert letters() == [1.75, 2.3], "only the crowded day is written smaller"


def test_what_has_no_room_is_counted() -> None:
    assert shortened(["a", "b", "c"], 3) == ["a", "b", "c"]
    assert shortened(["a", "b", "c"], 2) == ["a", "and 2 lines more"]
    assert shortened(["a"], 0) == []
    assert lines((), 30, measure) == []


def test_weeks_that_are_over_give_their_room_to_the_others() -> None:
    assert heights([True, False, False], 109) == [9, 50, 50]
    assert heights([True, True], 30) == heights([False, False], 30) == [15, 15]

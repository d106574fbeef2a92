"""The courses of a month on paper: a row a plant, a band, a ring for each look, words apart and on the sheet."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from greenhouse_desk.domain.journal import Potted, Roots, Settled
from greenhouse_desk.domain.paper import Line, Page, Ring, Words, flat
from greenhouse_desk.services import collection, records, transitions
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.month_courses import BAND, MARGIN, PLANTS, WIDTH, course_pages, month_pages
from tests.services.sheet_checks import boxes, measure, words

NOVEMBER, DECEMBER = date(2026, 11, 1), date(2026, 12, 1)


def moved(desk: Desk, plant: int, ago: int, *looks: int, name: str = "Cattleya walkeriana") -> None:
    desk.run(collection.add_plant, NewPlant(name, plant))
    now = desk.clock()
    desk.run(records.add, plant, Potted("bark"), now - timedelta(days=ago + 100))
    desk.run(records.add, plant, Potted("clay pellets", transition=True), now - timedelta(days=ago))
    for day in looks:
        desk.run(records.add, plant, Roots(8, 1, 2), now - timedelta(days=day))


def pages(desk: Desk, month: date) -> tuple[Page, ...]:
    return course_pages(desk.read(transitions.overview, desk.clock()), month, measure)


def rings(page: Page) -> list[float]:
    return [item.x for item in flat(page.items) if isinstance(item, Ring)]


def day_of(x: float, month: date) -> int:
    days = 30 if month == NOVEMBER else 31
    return round((x - MARGIN - PLANTS) / ((WIDTH - 2 * MARGIN - PLANTS) / days) + 0.5)


def test_a_course_has_its_band_the_looks_taken_and_those_to_come(desk: Desk) -> None:
    moved(desk, 101, 16, 2)
    (page,) = pages(desk, NOVEMBER)
    said = words([page])
    assert said[0] == "Courses in November 2026"
    assert "101" in said
    assert "week 3, stay the course" in said
    assert [one.text for one in flat(page.items) if isinstance(one, Words) and one.face.italic] == [
        "Cattleya walkeriana"], "by the naming codes"
    assert [day_of(x, NOVEMBER) for x in rings(page)] == [16, 30], "taken on the 16th, the next one on the 30th"
    assert "root check" in said
    (band,) = [one for one in flat(page.items) if isinstance(one, Line) and one.width == BAND]
    assert [day_of(x, NOVEMBER) for x in (band.x1, band.x2)] == [2, 16]


def test_a_course_that_was_over_before_the_month_is_not_on_it(desk: Desk) -> None:
    moved(desk, 101, 60, 40)
    desk.run(records.add, 101, Settled("firm"), desk.clock() - timedelta(days=3))
    assert "settled" in words(pages(desk, NOVEMBER))
    assert pages(desk, DECEMBER) == ()


def test_without_courses_there_is_only_the_page_of_care(desk: Desk) -> None:
    desk.run(collection.add_plant, NewPlant("Cattleya walkeriana", 101))
    assert len(desk.read(month_pages, desk.clock(), NOVEMBER, measure)) == 1


@pytest.mark.parametrize("month", [NOVEMBER, DECEMBER])
def test_no_words_lie_over_others_or_off_the_sheet(desk: Desk, month: date) -> None:
    for plant in range(101, 135):
        moved(desk, plant, 2 + plant % 97, *((1 + plant % 13,) if plant % 3 else ()),
              name="Brassolaeliocattleya Golden Tang 'A Very Long Name Indeed'")
    found = pages(desk, month)
    assert len(found) == 2
    assert sum(text.isdecimal() and int(text) > 100 for text in words(found)) == 34
    for page in found:
        told = list(boxes(page))
        assert [text for text, left, top, right, low in told if left < MARGIN - 0.1 or top < MARGIN
                or right > page.width - MARGIN + 0.1 or low > page.height - 6] == []
        assert [(one[0], other[0]) for place, one in enumerate(told) for other in told[place + 1:]
                if min(one[3], other[3]) - max(one[1], other[1]) > 0.2
                and min(one[4], other[4]) - max(one[2], other[2]) > 0.05] == []
        upright = [one for one in flat(page.items) if isinstance(one, Line) and one.x1 == one.x2]
        assert [text for text, left, top, right, low in told for one in upright
                if left < one.x1 < right and min(one.y1, one.y2) < low and top < max(one.y1, one.y2)] == []

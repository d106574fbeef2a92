"""No sheet lets words out of its margins or over others, whatever the collection: made up at random."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from greenhouse_desk.domain.care_values import Care, CareKind, Reason
from greenhouse_desk.domain.names_genera import Genera
from greenhouse_desk.domain.paper import Group, Page, Picture, Words, flat
from greenhouse_desk.domain.protocols import KitLine
from greenhouse_desk.domain.sitter import LOOKS, Rest
from greenhouse_desk.services import bench_pages, kit_pages, round_sheet, shelf_map, sitter_looks, sitter_pages
from greenhouse_desk.services.kit_pages import Kit
from greenhouse_desk.services.page_flow import BODY, SHEETS, Flow, Margins
from greenhouse_desk.services.page_parts import wordings
from greenhouse_desk.services.photos import Printable
from greenhouse_desk.services.round_sheet import Part, Round, Stop
from greenhouse_desk.services.shelf_map import Bench, ShelfMap
from greenhouse_desk.services.sitter_sheet import Bench as Watered
from greenhouse_desk.services.sitter_sheet import Row, SitterSheet
from tests.services.sheet_checks import faults, measure, words

USUAL = Margins()
FEW = settings(max_examples=settings().max_examples // 5)
DAY = date(2026, 11, 18)
SIZES = st.sampled_from(list(SHEETS.values()))
NAMES = st.sampled_from((
    "Phalaenopsis amabilis", "Brassolaeliocattleya Copper Kettle 'Lamplit' AM/ABC", "×", "W" * 70, "Paph. Maudiae",
    "Phalaenopsis (Doritaenopsis Purple Gem × Phalaenopsis equestris) × Phalaenopsis lueddemanniana var. hieroglyphica",
    "סחלב לבן מהחלון", "Vanda 💐 coerulea")).map(lambda name: wordings(name, Genera()))
TEXT = st.text(st.sampled_from("abcdefg íWשש"), min_size=1, max_size=90).filter(str.strip)
NUMBERS = st.integers(1, 999_999)


def sound(made: tuple[Page, ...], margins: Margins = USUAL) -> None:
    assert faults(made, margins) == []
    assert words(made).count(next(text for text in words(made) if text.endswith(f"page 1 of {len(made)}"))) == 1
    for nth, page in enumerate(made, 1):
        foot = [item.text for item in flat(page.items) if isinstance(item, Words)][-1]
        assert foot.endswith(f", page {nth} of {len(made)}")


@FEW
@given(st.lists(st.builds(Part, TEXT, st.booleans(), st.lists(st.builds(
    Stop, NUMBERS, NAMES, st.lists(TEXT, min_size=1, max_size=4).map(tuple), st.lists(TEXT, max_size=2).map(tuple)),
    max_size=9).map(tuple), st.sampled_from(((), ("Plain water only, no feed, besides: 101, 102 and 999999.",
                                                  "Rest dry, do not water: 103.")))),
    max_size=4), SIZES)
def test_a_round(parts: list[Part], size: tuple[float, float]) -> None:
    made = round_sheet.pages(Round("Round of 18 Nov 2026", DAY, (round_sheet.TODAY,), tuple(parts)), measure, size)
    sound(made)
    said = words(made)
    for part in parts:
        assert all(str(stop.number) in said for stop in part.stops)


@FEW
@given(st.lists(st.builds(Bench, TEXT, st.booleans(), st.lists(st.tuples(NUMBERS, NAMES), max_size=20).map(tuple)),
                max_size=4), SIZES)
def test_a_shelf_map(benches: list[Bench], size: tuple[float, float]) -> None:
    made = shelf_map.pages(ShelfMap(DAY, tuple(benches)), measure, size)
    sound(made)
    said = words(made)
    assert [text for text in said if text.isdecimal()] == [str(number) for bench in benches
                                                           for number, _ in bench.plants]


def test_the_longest_number_stays_in_its_cell() -> None:
    names = wordings("Phalaenopsis amabilis", Genera())
    (page,) = shelf_map.pages(ShelfMap(DAY, (Bench("Sill", False, ((999_999, names), (7, names))),)), measure)
    cells = [item for item in page.items if isinstance(item, Group)]
    numbers = [item for item in page.items if isinstance(item, Words) and item.text.isdecimal()]
    for cell, number in zip(cells, numbers, strict=True):
        assert number.x + measure(number.text, number.face).right <= cell.x + 30.5 - shelf_map.PAD
    assert numbers[0].face.letter < numbers[1].face.letter


@FEW
@given(st.lists(st.builds(KitLine, TEXT, st.floats(1, 5000), st.sampled_from(("ml", "pairs", "")), TEXT), max_size=12),
       st.lists(TEXT, max_size=20), st.lists(st.tuples(TEXT, TEXT), max_size=3), SIZES)
def test_a_kit_list(lines: list[KitLine], cautions: list[str], pairs: list[tuple[str, str]],
                    size: tuple[float, float]) -> None:
    at = datetime(2026, 11, 18, 15, 30, tzinfo=UTC)
    made = kit_pages.pages(Kit(at, UTC, at + timedelta(hours=2), tuple(lines), tuple(cautions), tuple(pairs),
                               tuple(pairs), ((101, "Phalaenopsis amabilis", "Pest wash"),), "Dry by dusk."),
                           measure, size)
    sound(made)
    said = "".join("".join(words(made)).split())
    assert all("".join(caution.split()) in said for caution in cautions[:1])


@FEW
@given(st.lists(st.one_of(TEXT, TEXT.map(lambda text: f"  17:04 {text}"), st.just("17:00 snips taken to 104")),
                max_size=60), SIZES)
def test_a_bench_record(lines: list[str], size: tuple[float, float]) -> None:
    sound(bench_pages.pages(["Bench session of 18 Nov 2026 16:30, ended 17:10", *lines], measure, size))


def photo(wide: int, high: int) -> Printable:
    return Printable(b"", wide, high)


@st.composite
def sitters(draw: st.DrawFn) -> tuple[SitterSheet, dict[str, Printable]]:
    counts = draw(st.lists(st.integers(1, 12), min_size=1, max_size=6))
    benches, number = [], 101
    for place, count in enumerate(counts):
        benches.append(Watered(draw(TEXT), f"Bench {place}", draw(st.booleans()), tuple(range(number, number + count))))
        number += count
    rows = []
    for nth in sorted(draw(st.lists(st.integers(0, 13), max_size=14))):
        bench = draw(st.sampled_from(benches))
        plants = bench.plants[:draw(st.integers(1, len(bench.plants)))]
        look = draw(st.sampled_from(list(LOOKS.values())))
        whom = ", ".join(map(str, plants))
        rows.append(Row(DAY + timedelta(days=nth), bench.short, bench.isolation, look, plants, whom))
    care = Care(101, CareKind.WASH_REPEAT, "w", "repeat wash", DAY, DAY, None, (Reason("so", ""),), 1)
    shapes = st.sampled_from(((220, 165), (165, 220), (220, 20)))
    pictures = {str(one): photo(*draw(shapes)) for one in range(101, number, 2)}
    last = DAY + timedelta(days=13)
    rests = Rest(101, DAY, last), Rest(102, last, last, usual=True)
    sheet = SitterSheet(DAY, DAY, last, tuple(benches), tuple(rows), ((102, last),), rests, ((care, DAY),), (),
                        {one: str(one) for one in range(101, number)})
    return sheet, pictures


@FEW
@given(sitters(), SIZES)
def test_a_sitters_sheet(made: tuple[SitterSheet, dict[str, Printable]], size: tuple[float, float]) -> None:
    sheet, pictures = made
    pages = sitter_pages.pages(sheet, measure, pictures, size)
    sound(pages, sitter_pages.MARGINS)
    said = " ".join(words(pages))
    for row in sheet.rows:
        for number in row.plants:
            assert str(number) in said


@pytest.mark.parametrize(("counted", "one", "more"), [
    (3, (1, True), (1, True)), (84, (1, True), (1, True)), (300, (1, False), (2, True))])
def test_pictures_that_one_page_has_no_room_for_are_said_to_be_left_off_or_take_two(
        counted: int, one: tuple[int, bool], more: tuple[int, bool]) -> None:
    numbers = tuple(range(101, 101 + counted))
    look = next(iter(LOOKS.values()))
    row = Row(DAY, "Sill", False, look, numbers, "all")
    sheet = SitterSheet(DAY, DAY, DAY + timedelta(days=13), (Watered("Sill", "Sill", False, numbers),), (row,), (), (),
                        (), (), {number: str(number) for number in numbers})
    pictures = {str(number): photo(220, 220) for number in numbers}
    for over, wanted in ((False, one), (True, more)):
        made = sitter_pages.pages(sheet, measure, pictures, over=over)
        pictured = any(isinstance(item, Picture) for page in made for item in flat(page.items))
        assert (len(made), pictured) == wanted
        assert (sitter_pages.LEFT_OFF in " ".join(words(made))) == (not pictured)
    bare = sitter_pages.pages(sheet, measure)
    assert sitter_pages.LEFT_OFF not in " ".join(words(bare)), "there was none to leave off"


@pytest.mark.parametrize("longer", range(4))
def test_a_long_kit_turns_the_page_between_its_lines(longer: int) -> None:
    at = datetime(2026, 11, 18, 15, 30, tzinfo=UTC)
    lines = (KitLine("gloves", 1, "pairs", ""),) * longer + (KitLine("tray of its own", 2, "", "note " * 40),) * 30
    made = kit_pages.pages(Kit(at, UTC, at, lines, (), (), (), (), "Dry."), measure, SHEETS["A5"])
    sound(made)
    assert len(made) > 2


def test_looks_that_fill_more_than_a_page_go_on_on_the_next() -> None:
    benches = tuple(Watered(f"Bench {nth}", f"Bench {nth}", nth == 9, (101 + nth,)) for nth in range(10))
    look = next(iter(LOOKS.values()))
    rows = tuple(Row(DAY + timedelta(days=day), bench.short, bench.isolation, look, bench.plants, str(bench.plants[0]))
                 for day in range(14) for bench in benches)
    sheet = SitterSheet(DAY, DAY, DAY + timedelta(days=13), benches, rows, (), (), (), (), {})
    made = sitter_pages.pages(sheet, measure, {}, SHEETS["A5"])
    sound(made, sitter_pages.MARGINS)
    for way in sitter_looks.WAYS:
        set_so = sitter_pages.set_in(sheet, Flow(measure, SHEETS["A5"], sitter_pages.MARGINS), {}, way)
        sound(set_so, sitter_pages.MARGINS)
        lefts = {item.x for page in set_so for item in flat(page.items)
                 if isinstance(item, Words) and item.text.startswith("Bench 3: the middle")}
        assert len(lefts) <= 1, "in one column where two have no room"


def test_the_checks_see_an_offence() -> None:
    size = SHEETS["A5"]
    flow = Flow(measure, size)
    flow.line("A title", BODY)
    (page,) = flow.done("Foot")
    bad = Page(*size, (Words(140, 100, "far out", BODY), *page.items, *page.items))
    assert sorted(one.split(": ")[1] for one in faults([bad], USUAL)) == [
        "'A title' over 'A title'", "'Foot, page 1 of 1' below", "'Foot, page 1 of 1' over 'Foot, page 1 of 1'",
        "'far out' outside"]
    with pytest.raises(AssertionError):
        sound((bad,))

"""`sources` is complete: every number in the data files and every constant of the rules is printed with its mark."""

from __future__ import annotations

import ast
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from greenhouse_desk.domain.datafile import MARKS
from greenhouse_desk.services.sources import figures

ROOT = Path(__file__).parents[1]
RESOURCES, DOMAIN = ROOT / "resources", ROOT / "greenhouse_desk" / "domain"
FIGURES = figures()

ASKED = "beyond it a question is refused, not answered"
LIMITS: dict[tuple[str, str], str] = {
    ("air", "KELVIN"): "0 deg C in kelvin, by definition",
    ("air", "TRIPLE_C"): "the triple point of water, by definition", ("air", "SEA_LEVEL_PA"): "by definition",
    **{("air_log_read", name): "how the work is cut up" for name in ("AT_ONCE", "FAULTS_TOLD", "KEPT_TEXTS")},
    ("air_log_read", "UNMEASURED"): "a mark", ("air_log_read", "FULL"): "by definition",
    ("air_slots", "FULL"): "by definition", **{("air_slots", name): "how a record is drawn together"
                                               for name in ("SLOT_S", "SLOT_H")},
    **{(name, "DAY_S"): "by definition" for name in ("air_log_time", "air_slots")},
    ("air_log_time", "EPOCH"): "1970, by definition", ("air_log_time", "FIRST_YEAR"): "a year of two digits",
    ("air_log_time", "LAST_YEAR"): "a year of two digits",
    ("air_log_time", "PLACES"): "an order", ("air_log_look", "LOOKED_AT"): "how many lines are looked at first",
    ("findings_air", "DRAWN_BY_HOUR"): "room on the screen",
    **{("air", name): ASKED for name in ("COLDEST_C", "HOTTEST_C", "FILM_C", "FILM_MM", "SPEED_M_S", "LENGTH_M",
                                         "PRESSURE_KPA")},
    ("bench_board", "SAID_AFTER_S"): "from when on a soak's end is told with its time",
    ("bench_order", "PEST_RANKS"): "an order", ("bench_deciding", "BACK"): "a place in a list",
    ("bench_deciding", "STOP"): "a place in a list",
    ("bench_deciding", "STOP_OPEN"): "a place in a list", ("bench_values", "LEAVING"): "a mark",
    ("care_checks", "CROWN"): "its days are house rules", ("care_checks", "CUT"): "its days are house rules",
    ("care_checks", "ROOT"): "weeks of 7 days; the weeks are house rules",
    ("care_day", "FAR_DAYS"): "from how far away a date is written with its year",
    ("findings", "MOST_GROUPS"): "so many lines can be told apart", ("findings_settling", "MARKS"): "weeks of the axis",
    ("findings_pests", "MONTHS_BACK"): "how far back is shown",
    **{(name, "LEAST_POINTS"): "a line has two ends" for name in ("findings_air", "findings_tracks")},
    ("findings_pests", "WET_BOUNDS"): "groups of hours, no threshold of harm: none is published",
    ("pests_thermal", "COLDEST_C"): "no data file may ask for more",
    ("pests_thermal", "HOTTEST_C"): "no data file may ask for more",
    **{("pots", name): ASKED for name in ("NARROWEST_MM", "WIDEST_MM")}, ("pots", "MM3_IN_A_LITRE"): "by definition",
    ("quarantine_exposure", "NAMED_MOST"): "how many plants a sentence names",
    **{("quarantine_status", name): "an order" for name in ("CLEAR", "NEVER_LOOKED", "EXPOSED", "NEWCOMER", "SUSPECT",
                                                           "TREATED", "INFESTED")},
    ("sampling", "DIGITS"): "digits reckoned with", ("sampling", "LARGEST_LOT"): ASKED,
    ("sun", "STEP"): "how finely the day is searched", ("sun", "PAST_MIDNIGHT"): "how far past midnight is searched",
    ("trace", "DAY_S"): "room for the seconds of a day on one axis",
    ("trace", "LAST_S"): "room for the seconds of a day on one axis",
    ("contacts", "MOMENT"): "the least span told apart",
    ("trace", "LONGEST_WINDOW_DAYS"): ASKED, ("transitions", "ROUNDING"): "keeps rounding from parting two shares",
    ("water", "MOST_EC"): ASKED, ("water", "MOST_ML"): ASKED, ("water_lime", "MOST"): ASKED,
    ("water_lime", "ALKALINITY_CACO3"): "1 for the unit itself; the others are constants",
    ("water_lime", "HARDNESS_CACO3"): "1 for the unit itself; the others are constants",
    ("agents", "DAY_MIN"): "minutes of a day",
    ("bench_plan_walk", "SLACK_MIN"): "keeps rounding from parting two steps",
    ("bench_questions", "REMOVED_BY"): "how far one key press moves the share on the screen",
    ("bench_values", "CELLS"): "how many countdowns a screen shows",
    ("care_words", "ROOM"): "how many letters a card has room for",
    ("origins", "NO_ORIGIN"): "nothing counted yet",
    ("courses_start", "GROWING_MONTHS"): "the calendar's spring and summer",
    ("countdown", "LONGEST_IN_MINUTES_S"): "from where on a countdown is written in hours",
    ("labels_sheets", "MOST_COPIES"): ASKED,
    **{("labels_reading", name): "no data file may ask for more" for name in (
        "LEAST_LABEL", "LONGEST_MM", "LARGEST_LETTER", "MOST_ON_SHEET")},
    ("labels_reading", "LAYS_OVER"): "keeps rounding from parting two boxes",
    ("labels_fit", "STEP"): "how finely smaller letters are tried",
    ("labels_fit", "SLACK"): "keeps rounding from refusing a word",
    **{("labels_editing", name): "what a new part begins with, until it is changed" for name in (
        "ROOMS", "SHARES", "LEAST_CODE", "NUMBER_SHARE", "FIRST_LETTER", "FIRST_NAME")},
    **{("labels_ruler", name): "how the ruler page is drawn" for name in ("LENGTH", "CORNER", "THICK", "TICK",
                                                                          "LONG_TICK", "SAID")},
    **{("labels_ruler", name): ASKED for name in ("MOST_WRONG", "FAR")},
    **{("labels_set", name): "how a mark is drawn" for name in ("TICK", "BAR", "EDGE")},
    **{("paper", name): "sizes of paper by ISO 216" for name in ("A4", "SIZES")},
    ("paper", "HAIR"): "how thin a line is drawn", ("paper", "ROUND"): "minutes of arc in a full turn",
    ("names_read", "DEEPEST"): "brackets in a name, against text made to harm",
    ("pests", "DAYS_MOST"): "no data file may ask for more", ("pests", "TIMES_MOST"): "no data file may ask for more",
    ("pests_thermal", "MOST_DEGREE_DAYS"): "no data file may ask for more",
    ("protocol_reading", "STEPS_MOST"): "no data file may ask for more",
    ("protocol_reading", "CHECK_DAYS_MOST"): "no data file may ask for more",
    ("protocol_steps", "SAY_LENGTH"): "letters a wall card has room for",
    **{("timeline", name): "room on the screen" for name in ("CLEAR", "DIGIT", "LEAST_WORDS", "SEEN", "APART")},
    ("timeline", "SEEN_THROUGH"): "how many entries of a group are compared",
    ("timeline", "WALK"): "how far is looked for where a group begins",
    ("air_dark", "DAY"): "by definition",
    ("timeline_dusk", "LONGEST"): "how near one must be to see nights",
    ("timeline_bands", "MINUTE"): "by definition", ("year", "HALF_YEAR"): "months from a season to its counterpart",
    **{("timeline_ticks", name): "room on the screen" for name in ("SPACE", "BESIDE")},
    **{("timeline_ticks", name): "the calendar" for name in ("FIRST", "LAST", "HALF_HOUR_MIN", "DAY_MIN", "LEVELS")},
    **{("timeline_values", name): "room on the screen" for name in ("MARK", "GAP", "PAD")},
    **{("timeline_values", name): "by definition" for name in ("HOUR", "DAY")},
    **{("timeline_values", name): "how near and how far one can zoom" for name in ("NEAREST", "FARTHEST")},
}
"""Numbers in the rules that say nothing about plants, pests, water or air: why each needs no source."""


def numbers(file: Path) -> Iterator[tuple[str, str, float]]:
    """Every number of a data file, with its place and what the place is called there (agent, pest, protocol)."""
    data = tomllib.loads(file.read_text("utf-8"))
    tables = [(data.get("title", ""), data)] if "title" in data else [
        (table.get("name", key), table) for key, table in data.items() if isinstance(table, dict)]
    for name, table in tables:
        yield from ((f"{file.name}: {path}", name, number) for path, number in _numbers(table, ""))


def _numbers(value: Any, path: str) -> Iterator[tuple[str, float]]:
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from _numbers(inner, f"{path}.{key}")
    elif isinstance(value, list):
        for nth, inner in enumerate(value, 1):
            yield from _numbers(inner, f"{path}[{nth}]")
    elif isinstance(value, int | float) and not isinstance(value, bool):
        yield path.lstrip("."), float(value)


def printed(name: str) -> set[float]:
    """The numbers in the figures told of an agent, a pest or a protocol."""
    told = [figure for figure in FIGURES if name.casefold() in figure.of.casefold()]
    return {float(word) for figure in told for word in re.findall(r"\d+(?:\.\d+)?", figure.figure)}


def unprinted(file: Path) -> list[str]:
    """Places in a data file whose number no printed figure of the same subject holds; a 0 says there is none."""
    return [f"{place} = {number:g}" for place, name, number in numbers(file) if number not in {0.0, *printed(name)}]


CARRY_FIGURES = [path for path in sorted(RESOURCES.rglob("*.toml")) if path.parent.name != "labels"]
"""Not the label layouts: their numbers are sizes on paper."""


@pytest.mark.parametrize("file", CARRY_FIGURES, ids=lambda path: path.stem)
def test_every_number_of_a_data_file_is_printed_under_its_subject(file: Path) -> None:
    assert unprinted(file) == []


def test_a_number_that_is_not_printed_is_found(tmp_path: Path) -> None:
    (tmp_path / "x.toml").write_text("[x]\nname = 'thrips'\n[[x.days]]\nlow = 12345\n", "utf-8")
    assert unprinted(tmp_path / "x.toml") == ["x.toml: days[1].low = 12345"]


def test_every_figure_has_words_and_a_mark() -> None:
    assert [figure for figure in FIGURES if not figure.source.startswith(MARKS)] == []
    assert [figure for figure in FIGURES if not figure.of.strip() or not figure.figure.strip()] == []
    assert [figure for figure in FIGURES if re.search(r"\b0 as the label says", figure.figure)] == []


DOCUMENT = re.compile(r"\b(1[89]|20)\d\d\b|ISO(/IEC)? \d+|WMO-No\. 8|SPES-201|EENY467|article \d+|ch\. 7|Table A\.4|"
                      r"Environmental Health and Safety 8\.2|Extension|FAO aquaponics glossary|US Naval Observatory|"
                      r"University of Georgia, Know|Leibniz University Hannover, PALM")
"""What lets a reader find what is meant: a year, the number of a standard or sheet, a title, a service with sheets."""


def vague(source: str) -> list[str]:
    """The parts of a source that are marked as published and name no document."""
    return [part for part in source.split("; ") if part.startswith("published") and not DOCUMENT.search(part)]


def test_what_is_marked_published_names_a_document() -> None:
    assert [part for figure in FIGURES for part in vague(figure.source)] == []
    assert vague("published: ISO 216; published: gathered from sheets") == ["published: gathered from sheets"]


def test_no_figure_stands_there_twice() -> None:
    seen = [(figure.of, figure.figure, figure.source) for figure in FIGURES]
    assert sorted({one for one in seen if seen.count(one) > 1}) == []


def bare(source: str) -> Iterator[str]:
    """Upper-case names that are given a number outside any `Constant(...)`."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Assign | ast.AnnAssign) and node.value is not None:
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            names = [part.id for target in targets for part in ast.walk(target) if isinstance(part, ast.Name)]
            if any(_loose(node.value)):
                yield from (name for name in names if name.isupper())


def _loose(node: ast.AST) -> Iterator[bool]:
    if isinstance(node, ast.GeneratorExp | ast.ListComp):
        node = node.elt  # what it runs over flows into it
    if isinstance(node, ast.Call) and ast.unparse(node.func) == "Constant":
        return
    if isinstance(node, ast.Constant) and isinstance(node.value, int | float) and not isinstance(node.value, bool):
        yield True
    for child in ast.iter_child_nodes(node):
        yield from _loose(child)


def test_bare_numbers_are_told_from_those_with_a_source() -> None:
    assert list(bare("A = 3\nB: float = 2.0\nc = 4\nC = Constant(3, 'd', 'x', 's')\nD = [Constant(1, '', '', '')]\n"
                     "E, F = 1, 2\nG = Span(1, 2)\nH = True\nI = 'nine'\n")) == ["A", "B", "E", "F", "G"]


def test_every_number_of_the_rules_is_a_constant_with_a_source_or_an_explained_limit() -> None:
    found = {(path.stem, name) for path in DOMAIN.glob("*.py") for name in bare(path.read_text("utf-8"))}
    assert found - set(LIMITS) == set(), "give it a source: Constant(value, unit, of, source)"
    assert set(LIMITS) - found == set(), "explained, but not there any more"


def test_every_constant_written_in_the_rules_is_printed() -> None:
    calls = [call for path in DOMAIN.glob("*.py") for call in ast.walk(ast.parse(path.read_text("utf-8")))
             if isinstance(call, ast.Call) and ast.unparse(call.func) == "Constant"]
    assert len(calls) > 20
    assert [ast.unparse(call) for call in calls if not any(_says(call.args[2], figure.of) for figure in FIGURES)] == []


def _says(of: ast.expr, told: str) -> bool:
    """Whether `told` is what this expression comes to: a text, or one with places to fill in."""
    if isinstance(of, ast.JoinedStr):
        parts = [re.escape(str(part.value)) if isinstance(part, ast.Constant) else ".*" for part in of.values]
        return re.fullmatch("".join(parts), told) is not None
    return bool(ast.literal_eval(of) == told)

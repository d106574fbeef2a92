"""When plants flowered: months by genus from what was written, n said, too few told in words, ends never made up."""

from __future__ import annotations

from datetime import UTC, date, datetime

from greenhouse_desk.domain.findings import Seasons
from greenhouse_desk.domain.findings_year import flowering, in_flower
from greenhouse_desk.domain.journal_year import Flowering, Stage
from greenhouse_desk.domain.names_genera import Genera, Genus
from greenhouse_desk.domain.plants import History
from greenhouse_desk.domain.year import GenusYear, Stretch, Years
from tests.builders import NOW, history, plant

OPEN, OVER = Flowering(Stage.OPEN), Flowering(Stage.OVER)
YEARS = Years({"Vanda": GenusYear("Vanda", bloom=Stretch(11, 1), source="from memory")})
GENERA = Genera((Genus("Vanda", ("V.",), "from memory"),))


def at(year: int, month: int, day: int = 10) -> datetime:
    return datetime(year, month, day, 12, tzinfo=UTC)


def bloomed(number: int, name: str = "Vanda tricolor", stage: Flowering = OPEN) -> History:
    """A plant that flowered once."""
    return history((at(2025, 12), stage), (at(2026, 2), OVER), of=plant(number, name))


def test_five_of_a_genus_are_drawn_with_their_months_and_n_and_the_usual_ones_beside() -> None:
    found = flowering([bloomed(1, "V. coerulea"), *(bloomed(n) for n in range(2, 6)), bloomed(9, "Laelia anceps")],
                      YEARS, GENERA, False, NOW, UTC)
    assert isinstance(found.chart, Seasons)
    (row,) = found.chart.rows
    assert (row.words, row.plants) == ("Vanda", 5)
    assert row.counts == (5, 5, 0, 0, 0, 0, 0, 0, 0, 0, 0, 5)
    assert row.usual == (11, 12, 1)
    assert found.rests_on == "6 flowerings of 6 plants of 2 genera"
    assert "Vanda, 5 plants: most in flower in Jan, Feb and Dec (5)." in found.summary
    assert "Laelia (1)" in found.summary
    assert found.table.rows[0][:3] == ("Vanda", 5, 5)
    south = flowering([bloomed(n) for n in range(5)], YEARS, GENERA, True, NOW, UTC)
    assert isinstance(south.chart, Seasons)
    assert south.chart.rows[0].usual == (5, 6, 7)


def test_four_of_a_genus_make_no_chart_and_it_is_said() -> None:
    found = flowering([*(bloomed(n) for n in range(4)), bloomed(9, "Laelia anceps")], YEARS, GENERA, False, NOW, UTC)
    assert found.chart is None
    assert found.summary.startswith("Only 4 plants of any one genus were seen in flower; a chart is drawn from 5 on.")
    assert flowering([], YEARS, GENERA, False, NOW, UTC).summary.startswith("No plant of any one genus")


def test_a_plant_counts_once_a_month_whatever_the_year_and_a_spike_is_no_flower() -> None:
    twice = history((at(2024, 3, 1), OPEN), (at(2024, 3, 20), OVER), (at(2025, 3, 5), OPEN), (at(2025, 4, 2), OVER),
                    of=plant(1, "Vanda tricolor"))
    spiked = bloomed(2, stage=Flowering(Stage.SPIKE))
    found = flowering([twice, spiked], YEARS, GENERA, False, NOW, UTC)
    assert found.table.rows == (("Vanda", 1, 0, 0, 1, 1, *(0,) * 8),)


def test_an_end_that_was_not_written_down_is_not_made_up() -> None:
    """Seen open twice, then a new spike: over by the second; nothing after it: some weeks and no longer."""
    again = history((at(2026, 3), OPEN), (at(2026, 4), OPEN), (at(2026, 9), Flowering(Stage.SPIKE)))
    assert list(in_flower(again.entries, NOW, UTC)) == [(date(2026, 3, 10), date(2026, 4, 10))]
    left = history((at(2026, 3), OPEN))
    assert list(in_flower(left.entries, NOW, UTC)) == [(date(2026, 3, 10), date(2026, 5, 9))]
    now = history((at(2026, 11), OPEN), (at(2027, 1), OVER))
    assert list(in_flower(now.entries, NOW, UTC)) == [(date(2026, 11, 10), NOW.date())]

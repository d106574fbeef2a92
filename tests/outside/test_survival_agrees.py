"""Settling curves, medians and comparisons agree with two statistics libraries over drawn records."""

from __future__ import annotations

from datetime import date, timedelta
from random import Random

import pytest
from lifelines import KaplanMeierFitter
from lifelines.statistics import logrank_test
from lifelines.utils import median_survival_times
from scipy import stats

from greenhouse_desk.domain.courses_values import Course, End
from greenhouse_desk.domain.findings import Curves
from greenhouse_desk.domain.findings_settling import By, settling
from greenhouse_desk.domain.transitions import Forecast, forecast, halfway, log_rank, settling_curve

CASES = [(seed, plants, leaving) for seed in range(8) for plants in (1, 2, 5, 12, 40, 150)
         for leaving in (0.0, 0.3, 0.7)]


def drawn(seed: int, plants: int, leaving: float) -> tuple[list[float], list[bool]]:
    """Days with many ties, and a share of plants that were no longer watched."""
    random = Random(f"{seed} {plants} {leaving}")
    return ([float(random.randint(0, 40)) for _ in range(plants)], [random.random() >= leaving for _ in range(plants)])


@pytest.mark.parametrize(("seed", "plants", "leaving"), CASES)
def test_curve_band_and_median_as_lifelines(seed: int, plants: int, leaving: float) -> None:
    """lifelines; where nobody is left its band is not defined, and ours says 0 to the limit before.

    A share of exactly one half is left out of the medians: it rounds to either side there.
    """
    days, settled = drawn(seed, plants, leaving)
    curve = settling_curve(days, settled)
    fitted = KaplanMeierFitter().fit(days, settled)
    band = fitted.confidence_interval_
    assert [step.day for step in curve] == sorted({day for day, end in zip(days, settled, strict=True) if end})
    for step in curve:
        assert step.share == pytest.approx(fitted.predict(step.day), abs=1e-9)
        if step.share > 0:
            assert (step.low, step.high) == pytest.approx(tuple(band.loc[step.day]), abs=1e-9)
    half = halfway(curve)
    if all(step.share != pytest.approx(0.5, abs=1e-9) for step in curve):
        assert half.day == fitted.median_survival_time_
    if all(step.share > 0 for step in curve):
        (limits,) = median_survival_times(band).values.tolist()
        assert [half.low, half.high] == limits


@pytest.mark.parametrize(("seed", "plants", "leaving"), CASES)
def test_curve_as_scipy(seed: int, plants: int, leaving: float) -> None:
    days, settled = drawn(seed, plants, leaving)
    function = stats.ecdf(stats.CensoredData.right_censored(days, [not end for end in settled])).sf
    for step in settling_curve(days, settled):
        assert step.share == pytest.approx(float(function.evaluate(step.day)), abs=1e-12)


@pytest.mark.parametrize(("seed", "plants", "leaving"), [case for case in CASES if case[1] > 2])
def test_comparison_as_lifelines_and_scipy(seed: int, plants: int, leaving: float) -> None:
    a, b = drawn(seed, plants, leaving), drawn(seed + 100, plants + 3, leaving)
    found = log_rank(*a, *b)
    theirs = logrank_test(a[0], b[0], a[1], b[1])
    assert found.chi_square == pytest.approx(theirs.test_statistic, abs=1e-9)
    assert found.p == pytest.approx(theirs.p_value, abs=1e-9)
    x, y = (stats.CensoredData.right_censored(days, [not end for end in settled]) for days, settled in (a, b))
    if any(a[1]) and any(b[1]):
        assert found.p == pytest.approx(float(stats.logrank(x, y).pvalue), abs=1e-9)


@pytest.mark.parametrize("already", [0, 3, 10, 20])
def test_forecast_is_the_curve_divided_as_lifelines_has_it(already: float) -> None:
    days, settled = drawn(1, 150, 0.3)
    fitted = KaplanMeierFitter().fit(days, settled)
    found = forecast(days, settled, already)
    assert isinstance(found, Forecast)
    assert found.plants == sum(day > already for day in days)
    for step in found.curve:
        assert step.share == pytest.approx(fitted.predict(step.day) / fitted.predict(already), abs=1e-9)
    half = next(step.day for step in found.curve if fitted.predict(step.day) <= fitted.predict(already) / 2)
    assert found.half.day == half


@pytest.mark.parametrize("seed", range(4))
def test_a_groups_curve_ends_where_lifelines_ends_its_own(seed: int) -> None:
    days, settled = drawn(seed, 12, 0.4)
    start = date(2026, 3, 2)
    courses = [Course(nth, "Vanda", nth, start, "bark", "pellets", (), End.SETTLED if end else End.LEFT,
                      start + timedelta(days=day)) for nth, (day, end) in enumerate(zip(days, settled, strict=True))]
    chart = settling(courses, By.ALL, {}, 51.0).chart
    assert isinstance(chart, Curves)
    assert chart.groups[0].last == KaplanMeierFitter().fit(days, settled).survival_function_.index[-1]

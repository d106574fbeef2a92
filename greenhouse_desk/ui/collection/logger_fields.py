"""How a logger's file is to be read, asked field by field: which column, which unit, which clock."""

from __future__ import annotations

from datetime import datetime, timedelta, tzinfo
from typing import Any

from greenhouse_desk.domain.air_log import Clock, Columns, DateOrder, MoistUnit, SpeedUnit, TempUnit
from greenhouse_desk.domain.air_log_look import BY_HAND, Sample
from greenhouse_desk.ui.forms import Field, Input, Values

WEST_MIN, EAST_MIN, STEP_MIN = -12 * 60, 14 * 60, 30
TEMP_UNITS = (("degrees C", TempUnit.C), ("degrees F", TempUnit.F), ("kelvin", TempUnit.K))
MOIST_UNITS = (("per cent, 0 to 100", MoistUnit.PERCENT), ("a fraction, 0 to 1", MoistUnit.FRACTION))
SPEED_UNITS = tuple((unit.value, unit) for unit in SpeedUnit)
DELIMITERS = tuple((words, one) for one, words in BY_HAND.items())
ORDERS = tuple((order.value, order) for order in DateOrder)
CLOCK_HELP = "Many loggers keep the time they were set to and never change to summer time."


def time_fields(sample: Sample, columns: Columns, zone: tzinfo, zone_name: str, now: datetime) -> tuple[Field, ...]:
    """The fields of time, filled in as `columns` has them."""
    names = _names(sample)
    return (
        Field("delimiter", Input.CHOICE, "Cells are parted by a", choices=DELIMITERS, start=sample.delimiter),
        Field("time", Input.CHOICE, "Time stands in", choices=names, start=columns.time),
        Field("day", Input.CHOICE, "Day stands in", choices=(("the same column", None), *names), start=columns.day),
        Field("order", Input.CHOICE, "The day is written", choices=ORDERS, start=columns.order),
        Field("clock", Input.CHOICE, "The logger's clock shows", CLOCK_HELP, choices=clocks(zone, zone_name, now),
              start=(columns.clock, columns.offset_minutes if columns.clock is Clock.FIXED else 0)),
        Field("decimal_comma", Input.CHECK, "Decimal comma: 20,5", start=columns.decimal_comma),
    )


def air_fields(sample: Sample, columns: Columns) -> tuple[Field, ...]:
    """The fields of what was measured, filled in as `columns` has them."""
    names = _names(sample)
    return (
        Field("temp", Input.CHOICE, "Temperature stands in", choices=names, start=columns.temp),
        Field("temp_unit", Input.CHOICE, "Temperature is in", choices=TEMP_UNITS, start=columns.temp_unit),
        Field("rh", Input.CHOICE, "Humidity stands in", choices=(("not measured", None), *names), start=columns.rh),
        Field("rh_unit", Input.CHOICE, "Humidity is in", choices=MOIST_UNITS, start=columns.rh_unit),
        Field("speed", Input.CHOICE, "Air speed stands in", choices=(("not measured", None), *names),
              start=columns.speed),
        Field("speed_unit", Input.CHOICE, "Air speed is in", choices=SPEED_UNITS, start=columns.speed_unit),
    )


def _names(sample: Sample) -> tuple[tuple[str, int], ...]:
    return tuple((name, nth) for nth, name in enumerate(sample.names))


def clocks(zone: tzinfo, zone_name: str, now: datetime) -> tuple[tuple[str, Any], ...]:
    """The clocks a logger may keep: the home's, UTC, and every offset that is kept all year, the home's own first."""
    winter = min(_offset(zone, now), _offset(zone, now + timedelta(days=182)))
    offsets = [winter, *(one for one in range(WEST_MIN, EAST_MIN + 1, STEP_MIN) if one not in (0, winter))]
    told = [(f"{offset_words(one)} all year" + (", the home's winter time" if one == winter else ""),
             (Clock.FIXED, one)) for one in offsets]
    return ((f"the home's time, {zone_name}, with summer time", (Clock.HOME, 0)), *told[:1], ("UTC", (Clock.UTC, 0)),
            *told[1:])


def offset_words(minutes: int) -> str:
    """ "UTC+01:00"."""
    hours, rest = divmod(abs(minutes), 60)
    return f"UTC{'-' if minutes < 0 else '+'}{hours:02d}:{rest:02d}"


def _offset(zone: tzinfo, at: datetime) -> int:
    return int((at.astimezone(zone).utcoffset() or timedelta(0)).total_seconds()) // 60


def columns_of(values: Values, was: Columns) -> Columns:
    """What the fields say; the line of names stays as it was found."""
    clock, minutes = values["clock"]
    rest = {name: value for name, value in values.items() if name != "clock"}
    return Columns(head=was.head, clock=clock, offset_minutes=minutes, **rest)

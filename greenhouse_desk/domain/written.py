"""Plain values written in JSON's own types and read back by their type hints."""

from __future__ import annotations

import dataclasses
import types
import typing
from collections.abc import Callable
from datetime import date, datetime
from enum import StrEnum
from functools import cache
from typing import Any

Reader = Callable[[Any, str], Any]


def written(value: Any) -> Any:
    """`value` (facts, or any dataclass of plain values) in JSON's own types: enums as words, dates as ISO text."""
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {field.name: written(getattr(value, field.name)) for field in dataclasses.fields(value)}
    if isinstance(value, StrEnum):
        return value.value
    if isinstance(value, (date, datetime)):
        return value.isoformat()
    if isinstance(value, (tuple, list)):
        return [written(item) for item in value]
    return value


def read(hint: Any, value: Any, name: str = "value") -> Any:
    """`value` in JSON's types read as the type `hint` names (dataclasses, tuples, enums, dates, optionals).

    Raises ValueError naming the field when it does not fit.
    """
    return _reader(hint)(value, name)


@cache
def _reader(hint: Any) -> Reader:
    """How values of this type are read; worked out once, because a whole journal is read at every change."""
    if isinstance(hint, types.UnionType):
        inner = _reader(next(one for one in hint.__args__ if one is not type(None)))
        return lambda value, name: None if value is None else inner(value, name)
    if typing.get_origin(hint) is tuple:
        return _tuple_reader(_reader(typing.get_args(hint)[0]))
    if dataclasses.is_dataclass(hint):
        return _record_reader(typing.cast(type, hint))
    return lambda value, name: _read_plain(hint, value, name)


def _tuple_reader(inner: Reader) -> Reader:
    def items(value: Any, name: str) -> Any:
        if not isinstance(value, list):
            raise ValueError(f"{name}: a list was expected, not {value!r}")
        return tuple(inner(item, f"{name}[{n}]") for n, item in enumerate(value))

    return items


def _record_reader(cls: type) -> Reader:
    readers = {key: _reader(hint) for key, hint in typing.get_type_hints(cls).items()}

    def record(value: Any, name: str) -> Any:
        if not isinstance(value, dict):
            raise ValueError(f"{name}: a table was expected, not {value!r}")
        unknown = value.keys() - readers.keys()
        if unknown:
            raise ValueError(f"{name}: unknown {', '.join(sorted(unknown))}")
        try:
            return cls(**{key: readers[key](item, key) for key, item in value.items()})
        except TypeError as error:
            raise ValueError(f"{name}: {error}") from None

    return record


def _read_plain(hint: Any, value: Any, name: str) -> Any:
    if isinstance(hint, type) and type(value) is hint:
        return value
    if hint in (date, datetime) and isinstance(value, str):
        return hint.fromisoformat(value)
    if isinstance(hint, type) and issubclass(hint, StrEnum) and isinstance(value, str):
        return hint(value)
    if hint is float and isinstance(value, (int, float)) and not isinstance(value, bool):
        return float(value)
    raise ValueError(f"{name}: {hint.__name__} was expected, not {value!r}")

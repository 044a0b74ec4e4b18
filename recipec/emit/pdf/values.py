"""Views of papers as plain values for a typst template: what a page is filled with, without what only other forms need."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from decimal import Decimal
from enum import Enum
from fractions import Fraction
from types import NoneType
from typing import TypeAlias

from recipec.emit.render import clean

Plain: TypeAlias = "str | int | float | bool | list[Plain] | dict[str, Plain] | None"


def plain(value: object, leave_out: frozenset[str] = frozenset()) -> Plain:
    """A view as JSON has it: data as dictionaries by field, all texts cleaned as those of a page are. Fields named in `leave_out` are
    left out, whatever holds them, and so is a field that is nothing to print (a language, a clock). Raises TypeError when all of
    `value` is of that kind."""
    match value:
        case None | bool() | int() | float():
            return value
        case Enum():
            return plain(value.value)
        case str():
            return clean(value)
        case Fraction() | Decimal():
            return str(value)
        case Mapping():
            return {str(key): plain(item, leave_out) for key, item in value.items()}
        case tuple() | list():
            return [plain(item, leave_out) for item in value]
        case _ if is_dataclass(value):
            named = ((field.name, getattr(value, field.name)) for field in fields(value) if field.name not in leave_out)
            return {name: plain(item, leave_out) for name, item in named if _printable(item)}
        case _:
            raise TypeError(f"no paper prints a {type(value).__name__}")


def _printable(value: object) -> bool:
    plain_types = (NoneType, bool, int, float, str, Enum, Fraction, Decimal, Mapping, tuple, list)
    return isinstance(value, plain_types) or is_dataclass(value)

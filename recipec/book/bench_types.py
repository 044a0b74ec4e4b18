"""What a sum at the bench gives."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple


class Side(NamedTuple):
    """One side of a sum: exact, with its unit, and in words; `high` is the upper end of a range."""

    value: Fraction
    unit: str
    text: str
    high: Fraction | None = None


class Answer(NamedTuple):
    """`via` says by what figure the sum was done, '' when the units alone decide."""

    given: Side
    result: Side
    via: str


class NoAnswer(NamedTuple):
    """Why there is none, and what to do."""

    message: str
    hint: str

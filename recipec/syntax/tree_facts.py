"""The nodes of the syntax tree for facts: the values of the lines under a title. `tree.py` has the whole, and its rules."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal, NamedTuple, TypeAlias

from recipec.base.span import Span
from recipec.syntax.tree_marks import (
    Amount,
    Holding,
    Name,
    Temperature,
)

# ---------------------------------------------------------------- facts


class Text(NamedTuple):
    """A fact whose value is words."""

    span: Span
    text: str


class Items(NamedTuple):
    """A fact that is a list: `tags`, `on hand`."""

    span: Span
    items: tuple[Name, ...]


class Number(NamedTuple):
    """A bare number or range: `serves: 6-8`. `words` is what follows it (`plate` in `spare: 1 plate`)."""

    span: Span
    low: Fraction
    high: Fraction
    words: str


class Yield(NamedTuple):
    """`makes: 1.4 l, 60 ml a plate`. A counted yield has unit None and its noun in `noun` (`24 pieces`, `2 loaves`)."""

    span: Span
    amount: Amount
    noun: str | None
    plate: Amount | None


class Keeps(NamedTuple):
    """`keeps: 3 d chilled, 1 month frozen`."""

    span: Span
    holdings: tuple[Holding, ...]


class Acceptance(NamedTuple):
    """`accept: core-too-low for duck breast, the menu says pink`."""

    span: Span
    slug: Name
    subject: Name | None
    reason: Name


class DayTime(NamedTuple):
    """`2026-10-17 19:30`; minutes from midnight in `start`, and in `end` for a window. `date` is (year, month, day), or None."""

    span: Span
    date: tuple[int, int, int] | None
    start: int
    end: int | None


class Guests(NamedTuple):
    """`8, 1 expecting, 2 under five`."""

    span: Span
    number: int
    expecting: int
    under_five: int


class HandsTurn(NamedTuple):
    """`2 from 16:00 to 22:00`; start and end None is the whole day."""

    span: Span
    number: int
    start: int | None
    end: int | None


class Hands(NamedTuple):
    """`1; 2 from 16:00 to 22:00`."""

    span: Span
    turns: tuple[HandsTurn, ...]


class Sum(NamedTuple):
    """Money: `160 GBP`. The number exact, the currency as an ISO 4217 code."""

    span: Span
    value: Fraction
    currency: str


class Need(NamedTuple):
    """`seat 3: allergic to tree nuts`, `seat 6: vegetarian`, `seat 7: rather not coriander`; several parted by commas or semicolons."""

    span: Span
    kind: Literal["allergic", "diet", "rather not", "without"]
    what: Name


class Seat(NamedTuple):
    """The needs of a seat; `who` is an optional name (`seat 3, Ines: …` is not in the language; None)."""

    span: Span
    seat: int
    needs: tuple[Need, ...]


class Children(NamedTuple):
    """`children: 2, half plates`."""

    span: Span
    number: int
    plate: Fraction


class Stretch(NamedTuple):
    """A fact that is a duration: `reserve: 20 min`; seconds."""

    span: Span
    seconds: Fraction


class Degrees(NamedTuple):
    """`tolerance: 10 °C`: a difference, in kelvins, exact."""

    span: Span
    kelvins: Fraction


class Feature(NamedTuple):
    """What a kitchen says of a piece of gear.

    `shelves`, `burners`: count; `up to`: a temperature; `heats`: kelvins a minute; `fan`, `alone`, `gas`, `induction`, `electric`:
    no value; `on`: a name (`on hob`); `size`: an amount (`200 l`, `28 cm`, `2 kW`); `takes`; `other`: words.
    """

    span: Span
    key: str
    amount: Amount | None
    temperature: Temperature | None
    words: str


class Stock(NamedTuple):
    """A kitchen's line: `oven: 1, 2 shelves, up to 250 °C, heats 12 °C/min, fan`. A bare `hob: 4 burners` has count 1."""

    span: Span
    number: int
    features: tuple[Feature, ...]


FactValue: TypeAlias = (
    Text
    | Items
    | Number
    | Yield
    | Keeps
    | Acceptance
    | DayTime
    | Guests
    | Hands
    | Sum
    | Seat
    | Children
    | Stretch
    | Degrees
    | Stock
)


class Fact(NamedTuple):
    """`name: value`. `key` is the canonical name (`on hand`, `seat`); `value` None where it could not be read."""

    span: Span
    key: str
    name: Name
    value: FactValue | None

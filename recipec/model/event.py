"""One booking."""

from __future__ import annotations

from datetime import datetime
from enum import StrEnum
from fractions import Fraction
from typing import NamedTuple, TypeAlias

from recipec.base.span import Span
from recipec.measure.quantity import Amount
from recipec.model.dish import Accepted
from recipec.model.kitchen import HandsTurn
from recipec.model.prices import Money
from recipec.model.reading import Reading


class NeedKind(StrEnum):
    """What a seat asks for."""

    ALLERGIC = "allergic"
    DIET = "diet"
    RATHER_NOT = "rather not"
    WITHOUT = "without"


class Need(NamedTuple):
    """One need of a seat."""

    span: Span
    kind: NeedKind
    what: str


class Seat(NamedTuple):
    """A seat, counted from 1, and its needs."""

    number: int
    needs: tuple[Need, ...]


class Window(NamedTuple):
    """Local time, without zone, from start to end."""

    start: datetime
    end: datetime


class Order(NamedTuple):
    """One dish in a course.

    `dish` is the key of the dish meant, None when it could not be found. Either `plates` or `amount` says how much; both None: a plate for
    every guest (and spare). `without` are foods left out; `seats` those it is for, () for all that nothing else is for.
    """

    span: Span
    written: str
    dish: str | None
    plates: Fraction | None
    amount: Amount | None
    without: tuple[str, ...]
    seats: tuple[int, ...]
    note: tuple[str, ...]


class Words(NamedTuple):
    """Plain prose between marks."""

    text: str


class OrderAt(NamedTuple):
    """`Course.orders[order]` in its place."""

    order: int


class ReadingAt(NamedTuple):
    """A reading in its place."""

    reading: Reading


Piece: TypeAlias = Words | OrderAt | ReadingAt


class Course(NamedTuple):
    """A course. `start` (and `end` for a span) on the event's day; or `after` another course by so many seconds."""

    span: Span
    name: str
    start: datetime | None
    end: datetime | None
    after: str | None
    after_s: Fraction | None
    paragraphs: tuple[tuple[Piece, ...], ...]
    orders: tuple[Order, ...]


class Event(NamedTuple):
    """One booking. `children_plate` is the part of a plate a child gets. Prose is the client's, a paragraph each."""

    key: str
    title: str
    span: Span
    title_span: Span
    guests: int
    expecting: int
    under_five: int
    children: int
    children_plate: Fraction
    crew: int
    spare: int
    serve: datetime | None
    arrive: datetime | None
    leave_by: datetime | None
    prepare: tuple[Window, ...]
    kitchen: str | None
    hands: tuple[HandsTurn, ...]
    budget: Money | None
    price: Money | None
    on_hand: tuple[str, ...]
    seats: tuple[Seat, ...]
    aim: str
    reserve_s: Fraction
    measures: str
    accepted: tuple[Accepted, ...]
    prose: tuple[str, ...]
    courses: tuple[Course, ...]
    kitchen_span: Span | None = None
    budget_span: Span | None = None
    price_span: Span | None = None

    def plates(self) -> Fraction:
        """Plates of a dish made for everyone: guests, children at their part of a plate, crew and spare."""
        grown = self.guests - self.children
        return Fraction(grown + self.crew + self.spare) + self.children * self.children_plate

"""What of a book a client is given: their menu at a household's portions, nothing of money, and nothing that tells who could not eat what.

A copy is a book of its own, made smaller: what is left out here can't come out of any paper made from it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from types import MappingProxyType
from typing import NamedTuple, TypeAlias

from recipec.base.finding import NEVER_ACCEPTED, Finding, Severity
from recipec.larder.larder import Larder
from recipec.measure.quantity import Amount
from recipec.model.book import Book
from recipec.model.dish import Dish
from recipec.model.event import Course, Event
from recipec.plan.demand import Ask, Run, demand

HOUSEHOLD = 4
"""Plates of a dish as a household cooks it: common practice."""

Portion: TypeAlias = Fraction | Amount | None
"""Plates, or what a component comes to; None: as it is written."""


class ClientCopy(NamedTuple):
    """The smaller book and how much each of its dishes is shown for, by the dish's key."""

    book: Book
    portions: Mapping[str, Portion]


def client_copy(book: Book, larder: Larder, event: Event, plates: int = HOUSEHOLD) -> ClientCopy:
    """The copy for the client of `event`, for so many plates of each dish served, and as much of what those are made of as they take.

    Seats, fragile guests, crew, money, hours, kitchen and what was accepted go; so do versions of a dish for some of the guests, which are
    the dish itself here.
    """
    served = dict.fromkeys(order.dish for course in event.courses for order in course.orders if order.dish is not None)
    dishes = {dish.key: dish for dish in book.dishes}
    asks = [Ask(key, Fraction(plates) if dishes[key].serves else None) for key in served if key in dishes]
    portions: dict[str, Portion] = {}
    for run in demand(book, larder, asks).runs:
        portions[run.dish.key] = Fraction(plates) if run.dish.key in served and run.dish.serves else _made(run)
    smaller = Book(
        settings=book.settings,
        dishes=tuple(_plain(dish) for dish in book.dishes if dish.key in portions),
        events=(_bare(event),),
        kitchens=(),
        prices=(),
    )
    return ClientCopy(smaller, MappingProxyType(portions))


def client_findings(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """The dangers in the dishes themselves, without the reasons that the cook gave for them: those may speak of guests. What is no danger
    is the kitchen's own business."""
    ours = (one for one in findings if one.severity is Severity.DANGER and one.slug not in NEVER_ACCEPTED)
    return tuple(replace(one, accepted=None) for one in ours)


def _made(run: Run) -> Portion:
    if run.dish.makes is not None:
        return run.dish.makes.amount.scaled(run.factor)
    return None if run.plates is None else run.plates


def _plain(dish: Dish) -> Dish:
    return dish._replace(price=None)


def _bare(event: Event) -> Event:
    return event._replace(
        expecting=0,
        under_five=0,
        children=0,
        crew=0,
        spare=0,
        arrive=None,
        leave_by=None,
        prepare=(),
        kitchen=None,
        hands=(),
        budget=None,
        price=None,
        on_hand=(),
        seats=(),
        accepted=(),
        courses=tuple(_menu(course) for course in event.courses),
    )


def _menu(course: Course) -> Course:
    orders = tuple(order._replace(plates=None, amount=None, without=(), seats=(), note=()) for order in course.orders)
    return course._replace(orders=orders)

"""Which versions of dishes events ask for, a dish without some food, and where their cards lie."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from recipec.emit.desk import Desk
from recipec.model.event import Order
from recipec.plan.cannot_leave import refusals
from recipec.plan.leaving_out import Leaving
from recipec.plan.links import Links


class Version(NamedTuple):
    """A version that has a card: `plates` are wanted of it, None where that can't be told."""

    dish: str
    without: tuple[str, ...]
    plates: Fraction | None


def ordered_versions(desk: Desk) -> tuple[Version, ...]:
    """Every version that an event orders, each once; none for what can't be left out."""
    wanted: dict[tuple[str, tuple[str, ...]], set[Fraction | None]] = {}
    for event in desk.book.events:
        for course in event.courses:
            for order in course.orders:
                if order.dish is not None and version_path(desk, order):
                    plates = order.plates or (Fraction(len(set(order.seats))) if order.seats else None)
                    wanted.setdefault((order.dish, order.without), set()).add(plates)
    return tuple(
        # Several bookings want several numbers of plates: then it is for as many as the dish is written for.
        Version(dish, without, next(iter(plates)) if len(plates) == 1 else None)
        for (dish, without), plates in sorted(wanted.items(), key=lambda pair: pair[0])
    )


def version_path(desk: Desk, order: Order) -> str:
    """Where the card of an order's version lies; '' where it leaves nothing out, or can't be."""
    links = Links(desk.book)
    dish = None if order.dish is None else links.dish(order.dish)
    if dish is None or not order.without or refusals(Leaving(links, desk.request.larder), dish, order.without):
        return ""
    return desk.paths.version(dish.key, order.without)

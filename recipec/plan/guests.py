"""Who eats what at one event, and what is in it: the matrix of allergens and diets, and what it means for every seat.

Every figure is read off `plan.guests_foods`; every judgement of a food against a guest's need is `plan.needs`. Unknown is never free.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType

from recipec.base.span import Span
from recipec.larder.ingredient import Ingredient, Presence
from recipec.larder.larder import Larder
from recipec.model.book import Book
from recipec.model.event import Course, Event, Need, NeedKind, Order
from recipec.plan.allergen_groups import Groups, groups_of
from recipec.plan.diets import Fits, fits
from recipec.plan.guests_foods import Eaten, Version, unknown_dish, version_of
from recipec.plan.needs import Harm, harms, is_allergy, most


@dataclass(frozen=True, slots=True)
class Cell:
    """What may be said of one group, and the foods it is said for; none where it is not in the recipe."""

    presence: Presence
    foods: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Row:
    """A dish, or a dish that another is made of, in one version. `cells` by the group's key, in the rule set's order; `unknown` are
    foods of which nothing, or not all, is known."""

    key: str
    title: str
    without: tuple[str, ...]
    cells: Mapping[str, Cell]
    diets: Mapping[str, Fits]
    unknown: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Served:
    """One order: its row, the plates where they can be counted, and the seats that may be served of it."""

    course: str
    order: Order
    row: Row
    parts: tuple[Row, ...]
    plates: Fraction | None
    seats: tuple[int, ...]
    eaten: tuple[Eaten, ...]


@dataclass(frozen=True, slots=True)
class Verdict:
    """What one order means for one need of one seat: the foods that go against it, may, or are not known not to; () where none does.
    `served` is the place in `Guests.served`."""

    seat: int
    need: Need
    served: int
    harms: tuple[Harm, ...]

    @property
    def presence(self) -> Presence:
        """The worst that may be said."""
        return most(harm.presence for harm in self.harms)

    @property
    def hurts(self) -> bool:
        """Whether it is an allergy, or asked for in the words of one."""
        return is_allergy(self.need)


@dataclass(frozen=True, slots=True)
class Guests:
    """The whole of an event: orders in their order, and a verdict for every need of every seat on every order it may be served of."""

    event: Event
    groups: Groups
    served: tuple[Served, ...]
    verdicts: tuple[Verdict, ...]


def guests_of(book: Book, larder: Larder, event: Event) -> Guests:
    """The matrix of an event, by the book's rule set."""
    groups = groups_of(book.settings.safety)
    served = tuple(
        _served(book, larder, groups, event, course, order) for course in event.courses for order in course.orders
    )
    verdicts = tuple(
        Verdict(seat.number, need, place, harms(need, (one.food for one in order.eaten), larder))
        for seat in event.seats
        for need in seat.needs
        for place, order in enumerate(served)
        if seat.number in order.seats
    )
    return Guests(event, groups, served, verdicts)


def asks(need: Need) -> str:
    """`is allergic to tree nuts`, `is vegetarian`, `eats no pork`."""
    what = need.what
    match need.kind:
        case NeedKind.ALLERGIC:
            return f"is allergic to {what}"
        case NeedKind.RATHER_NOT:
            return f"would rather not have {what}"
        case NeedKind.WITHOUT:
            return f"eats no {what.removeprefix('no ')}"
        case NeedKind.DIET:
            if what.startswith("no "):
                return f"eats {what}"
            return f"is {what}" if what in ("vegetarian", "vegan", "pescatarian", "coeliac") else f"eats {what}"


def row_of(version: Version, groups: Groups, larder: Larder, span: Span) -> Row:
    """What may be said of one version of a dish."""
    cells = {group.key: _cell(group.presence, version.eaten) for group in groups.groups}
    foods = version.foods()
    unknown = dict.fromkeys(
        food.name for food in foods if food.item is None or food.item.allergens is None or food.item.open
    )
    return Row(
        version.key,
        version.title,
        version.without,
        MappingProxyType(cells),
        fits(foods, larder, span),
        tuple(unknown),
    )


def _cell(presence: Callable[[Ingredient | None], Presence], eaten: Iterable[Eaten]) -> Cell:
    found: dict[Presence, dict[str, None]] = {}
    for one in eaten:
        found.setdefault(presence(one.food.item), {})[one.food.name] = None
    # Of a dish in which nothing is found nothing is known.
    worst = most(found) if found else Presence.UNKNOWN
    return Cell(worst, () if worst is Presence.NOT_IN_RECIPE else tuple(found.get(worst, ())))


def _served(book: Book, larder: Larder, groups: Groups, event: Event, course: Course, order: Order) -> Served:
    known = order.dish is not None and book.dish(order.dish) is not None
    if known and order.dish is not None:
        version = version_of(book, larder, order.dish, order.without)
    else:
        version = unknown_dish(order.written, order.span)
    return Served(
        course=course.name,
        order=order,
        row=row_of(version, groups, larder, order.span),
        parts=tuple(row_of(part, groups, larder, order.span) for part in version.parts),
        plates=_plates(event, course, order),
        seats=seats_of(event, course, order),
        eaten=version.eaten,
    )


# ---------------------------------------------------------------- who is served


def seats_of(event: Event, course: Course, order: Order) -> tuple[int, ...]:
    """The seats that may be served of an order.

    Those it names; else everyone whom no other order of the same dish in that course serves. Seats that have another dish of their own
    are left out only where the plates counted for the others can't reach them. In doubt a seat may be served.
    """
    if order.seats:
        return tuple(sorted(set(order.seats)))
    everyone = set(_all_seats(event))
    same = {seat for other in course.orders if other.dish == order.dish for seat in other.seats}
    return tuple(sorted(everyone - same - _elsewhere(event, course, order)))


def _elsewhere(event: Event, course: Course, order: Order) -> set[int]:
    apart = {seat for other in course.orders for seat in other.seats}
    if order.plates is None or not apart:
        return set()
    counted = sum(
        (other.plates for other in course.orders if not other.seats and other.plates is not None), Fraction(0)
    )
    return apart if counted <= event.guests + event.spare + event.crew - len(apart) else set()


def _all_seats(event: Event) -> Iterator[int]:
    yield from range(1, event.guests + 1)
    yield from (seat.number for seat in event.seats if seat.number > event.guests)


def _plates(event: Event, course: Course, order: Order) -> Fraction | None:
    if order.plates is not None:
        return order.plates
    if order.amount is not None:
        return None
    if order.seats:
        return Fraction(len(set(order.seats)))
    same = {seat for other in course.orders if other.dish == order.dish for seat in other.seats}
    return max(event.plates() - len(same), Fraction(0))

"""Whose food must be kept apart from what, and what of the work of a booking puts that into gear.

What is common practice here and nobody's rule: plates made free from something are made first, on clean boards and pans; a pan that held
it is washed before it is used for them; oil, a grill, a waffle iron can't be washed between and are used for them first, or not at all.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import partial
from typing import NamedTuple

from recipec.larder.ingredient import Presence
from recipec.larder.larder import Larder
from recipec.model.book import Book
from recipec.model.dish import Dish, Role, Use
from recipec.model.event import Event, Need, NeedKind
from recipec.plan.demand import Run
from recipec.plan.guests import asks, guests_of
from recipec.plan.leaving_out import Leaving
from recipec.plan.links import Links
from recipec.plan.needs import Food, is_allergy, presence_of


class Booking(NamedTuple):
    """What is made for one event: `courses` is for every run the first course it is served in (None: only other dishes use it), `run_for`
    finds the run that an order of a dish is made by."""

    book: Book
    larder: Larder
    event: Event
    runs: tuple[Run, ...]
    courses: tuple[int | None, ...]
    run_for: Callable[[str, tuple[str, ...]], int | None]

    def below(self) -> tuple[tuple[int, ...], ...]:
        """For every run those that it draws on."""
        number = {(run.dish.key, run.without): place for place, run in enumerate(self.runs)}
        return tuple(
            tuple(number[draw.dish, draw.without] for draw in run.draws if (draw.dish, draw.without) in number)
            for run in self.runs
        )

    def wanted_at(self) -> tuple[int, ...]:
        """For every run the first course it is wanted for, itself or in another dish."""
        below = self.below()
        found = [len(self.event.courses) if course is None else course for course in self.courses]
        # What others are made of stands before them.
        for place in range(len(self.runs) - 1, -1, -1):
            for other in below[place]:
                found[other] = min(found[other], found[place])
        return tuple(found)


# Where food touches what was in it or on it before, and there is no washing between two uses. Common practice.
_LASTING = frozenset(
    ("fryer", "grill", "barbecue", "waffle iron", "griddle plate", "plancha", "smoker", "dehydrator", "proving basket")
)


class Guard(NamedTuple):
    """Runs that must be kept free of something. `words` say for whom (`seat 3 is allergic to tree nuts`) or what is left out; `hurts`
    when someone is allergic. `bears` are, for every run that has it, the numbers of the uses that bring it in."""

    words: str
    hurts: bool
    runs: frozenset[int]
    bears: tuple[tuple[int, frozenset[int]], ...]


def lasting(key: str) -> bool:
    """Whether gear of that name keeps something of all that was in it."""
    return any(key == name or key.endswith(f" {name}") for name in _LASTING)


def guards_of(booking: Booking) -> tuple[Guard, ...]:
    """Everyone who must be guarded, allergies first."""
    return tuple(sorted(_guards(booking), key=lambda guard: (not guard.hurts, guard.words)))


def _guards(booking: Booking) -> Iterator[Guard]:
    book, larder, event, runs, _, run_for = booking
    below = booking.below()
    links = Links(book)
    met: set[frozenset[int]] = set()
    if event.seats:
        guests = guests_of(book, larder, event)
        by_need: dict[tuple[NeedKind, str], list[tuple[int, Need, int | None]]] = {}
        for verdict in guests.verdicts:
            if verdict.need.kind is NeedKind.RATHER_NOT and not verdict.hurts:
                continue
            order = guests.served[verdict.served].order
            number = None if order.dish is None else run_for(order.dish, order.without)
            # What goes against the need by itself has been told, and no wash mends it.
            clean = number if verdict.presence in (Presence.NOT_IN_RECIPE, Presence.UNKNOWN) else None
            by_need.setdefault((verdict.need.kind, verdict.need.what), []).append((verdict.seat, verdict.need, clean))
        for found in by_need.values():
            need = found[0][1]
            seats = sorted({seat for seat, _, _ in found})
            own = frozenset(_reached((number for _, _, number in found if number is not None), below))
            bears = _bearing(links, runs, partial(_holds, need, larder))
            own -= {number for number, _ in bears}
            met.update(frozenset((number,)) for number in own)
            if own and bears:
                yield Guard(f"seat {' and '.join(map(str, seats))} {asks(need)}", is_allergy(need), own, bears)
    leaving = Leaving(links, larder)
    for number, run in enumerate(runs):
        if run.without and frozenset((number,)) not in met:
            bears = _bearing(links, runs, partial(_left_out, leaving, run.without))
            if bears:
                words = f"{run.dish.title} is made without {' or '.join(run.without)} for some"
                yield Guard(words, False, frozenset((number,)), bears)


def _reached(numbers: Iterable[int], below: tuple[tuple[int, ...], ...]) -> set[int]:
    todo, seen = list(numbers), set[int]()
    while todo:
        number = todo.pop()
        if number not in seen:
            seen.add(number)
            todo += below[number]
    return seen


def _left_out(leaving: Leaving, foods: tuple[str, ...], use: Use, dish: Dish) -> bool:
    return leaving.brings(use, foods, dish)


def _holds(need: Need, larder: Larder, use: Use, _: Dish) -> bool:
    """Known to be in it, or may be. Food of which nothing is known is told of where it is served."""
    food = Food(use.name, None if use.item is None else larder.get(use.item))
    return presence_of(need, food, larder) in (Presence.CONTAINS, Presence.MAY_CONTAIN)


def _bearing(
    links: Links, runs: tuple[Run, ...], holds: Callable[[Use, Dish], bool]
) -> tuple[tuple[int, frozenset[int]], ...]:
    """Runs stand in the order they are made: what a run draws on has been judged before it."""
    found: dict[int, frozenset[int]] = {}
    made: dict[tuple[str, tuple[str, ...]], int] = {}
    for number, run in enumerate(runs):
        made[run.dish.key, run.without] = number
        uses = {use.number for use in run.bought if use.role is Role.BUY and holds(use, run.dish)}
        drawn = ((draw, made.get((draw.dish, draw.without))) for draw in run.draws)
        uses |= {draw.use.number for draw, below in drawn if below is not None and below in found}
        if uses:
            found[number] = frozenset(uses)
    return tuple(found.items())

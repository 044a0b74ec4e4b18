"""Labels for tubs: what is in each, when it was made, by when it is used up, and how it is kept.

The day it is used up by is the earliest of what the dish says, what the rule set says, and what the chilled things it is made of have left.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from typing import NamedTuple

from recipec.larder.ingredient import Ingredient, Presence
from recipec.larder.larder import Larder
from recipec.measure.language import ENGLISH, Language, language_of
from recipec.measure.quantity import Amount
from recipec.measure.show import show_amount
from recipec.model.book import Book
from recipec.model.dish import Made
from recipec.model.event import Event
from recipec.model.reading import Hold, State
from recipec.plan.allergen_groups import Group, groups_of
from recipec.plan.demand import Run, demand, orders_of
from recipec.plan.guests_foods import Eaten
from recipec.plan.label_foods import InTubs
from recipec.plan.needs import most
from recipec.plan.rules import limit
from recipec.plan.safety_foods import is_rice
from recipec.plan.styling import style_of
from recipec.plan.timeline_types import Planned, Work
from recipec.plan.wording import hold_text

_SHORTEST_S = 4 * 3600
"""What is held warm or on the bench for less than this stands in no tub: a choice of ours. What is chilled or frozen always has one."""

_DAY_S = 86_400


class Held(NamedTuple):
    """A group and what may be said of it; `kinds` are the cereals or nuts that are named, `foods` those it is said for."""

    group: Group
    presence: Presence
    kinds: tuple[str, ...]
    foods: tuple[str, ...]


class UseBy(NamedTuple):
    """Until when, and by what. `to_the_day` where it is the whole of that day. `why` is a few words with their source."""

    at: datetime
    to_the_day: bool
    why: str


@dataclass(frozen=True, slots=True)
class Label:
    """One tub. `name` is what is in it, of dish `dish` as it is made `without` some foods. `much` is its `amount` in words; '' and None
    when nobody said. `made` and `use_by` are None where there is no plan, and are written in by hand. `open` are foods of which not all
    is known."""

    name: str
    dish: str
    title: str
    without: tuple[str, ...]
    amount: Amount | None
    much: str
    made: datetime | None
    use_by: UseBy | None
    state: State
    keep: str
    back: str
    held: tuple[Held, ...]
    open: tuple[str, ...]
    rice: bool


def labels_of(book: Book, larder: Larder, event: Event, planned: Planned | None) -> tuple[Label, ...]:
    """The labels of all that is made ahead for an event, in the order in which it is made; the same tub once."""
    runs = demand(book, larder, orders_of(event)).runs
    return tuple(_Labels(book, event, InTubs(larder, runs), planned).all())


def held_in(foods: Iterable[Eaten], rules: str) -> tuple[Held, ...]:
    """What may be said of each group of a rule set, in its order. Of nothing, nothing is known."""
    eaten = tuple(foods)
    return tuple(_held(group, eaten) for group in groups_of(rules).groups)


def open_in(foods: Iterable[Eaten]) -> tuple[str, ...]:
    """Foods of which nothing, or not all, is known; each once."""
    return tuple(dict.fromkeys(food.name for food, _ in foods if _is_open(food.item)))


def has_rice(foods: Iterable[Eaten]) -> bool:
    """Whether there is rice in it."""
    return any(is_rice(food.item, food.name) for food, _ in foods)


def shelf(
    rules: str,
    made: datetime,
    since: datetime,
    state: State,
    hold: Hold | None,
    rice: bool,
    tongue: Language = ENGLISH,
) -> UseBy | None:
    """The earliest end of what is made at `made`, of chilled things of which the oldest is of `since`; None where nothing says any."""
    found: list[UseBy] = []
    if hold is not None:
        why = tongue.say("the dish says %(hold)s", hold=hold_text(hold, tongue))
        found.append(UseBy(made + timedelta(seconds=int(hold.low)), False, why))
    if state is State.CHILLED:
        chilled = limit(rules, "shelf", "chilled")
        if chilled is not None and chilled.seconds is not None:
            # The day it is made counts as the first.
            days = max(chilled.seconds // _DAY_S - 1, 0)
            end = datetime.combine(since.date() + timedelta(days=days), time(23, 59))
            number = chilled.seconds // _DAY_S
            why = tongue.say(
                "%(number)s days with the day it was made, %(source)s", number=number, source=chilled.source
            )
            found.append(UseBy(end, True, why))
        cooked = limit(rules, "shelf", "rice") if rice else None
        if cooked is not None and cooked.seconds is not None and cooked.seconds <= _DAY_S:
            end = made + timedelta(seconds=cooked.seconds)
            hours = cooked.seconds // 3600
            why = tongue.say("rice, %(number)s hours, %(source)s", number=hours, source=cooked.source)
            found.append(UseBy(end, False, why))
    return min(found, key=lambda one: one.at, default=None)


def _held(group: Group, eaten: tuple[Eaten, ...]) -> Held:
    said = [(group.presence(food.item), food) for food, _ in eaten]
    worst = most(presence for presence, _ in said) if said else Presence.UNKNOWN
    if worst is Presence.NOT_IN_RECIPE:
        return Held(group, worst, (), ())
    items = [food.item for presence, food in said if presence is worst and food.item is not None]
    names = dict.fromkeys(food.name for presence, food in said if presence is worst)
    kinds = _kinds(group, items) if worst is Presence.CONTAINS else ()
    return Held(group, worst, kinds, tuple(names))


_NAMED = frozenset({"gluten", "nuts"})
_CEREALS = frozenset({"wheat", "rye", "barley", "oats", "spelt", "khorasan"})


def _kinds(group: Group, items: Iterable[Ingredient]) -> tuple[str, ...]:
    """Which cereals, which nuts: both rule sets want them named."""
    if group.allergen not in _NAMED or group.kind:
        return ()
    named = dict.fromkeys(kind for item in items for kind in item.named)
    return tuple(kind for kind in named if (kind in _CEREALS) == (group.allergen == "gluten"))


def _is_open(item: Ingredient | None) -> bool:
    return item is None or item.allergens is None or item.open


class _Labels:
    def __init__(self, book: Book, event: Event, tubs: InTubs, planned: Planned | None) -> None:
        self.book, self.event, self.tubs = book, event, tubs
        self.planned = planned if planned is not None and planned.plan.placed else None
        self.style = style_of(book)
        self.tongue = language_of(book.settings.language)

    def all(self) -> list[Label]:
        """Sorted by when they are made; those nobody planned last, in the order of the dishes."""
        found: list[Label] = []
        seen: set[tuple[str, str, frozenset[str]]] = set()
        for run in self.tubs.runs:
            for label, key in self._of_run(run):
                if key not in seen:
                    seen.add(key)
                    found.append(label)
        return sorted(found, key=lambda label: (label.made is None, label.made or datetime.min))

    def _of_run(self, run: Run) -> Iterator[tuple[Label, tuple[str, str, frozenset[str]]]]:
        makes = [made for step in run.dish.steps() for made in step.makes if not made.discarded]
        whole = [made for made in makes if _is_whole(run, made)]
        told: set[tuple[State, frozenset[str]]] = set()
        for made in makes:
            # What the whole dish says of its keeping is of what it ends in.
            hold = _longer(made.hold, run.dish.keeps if made in whole else ())
            if hold is not None and _in_a_tub(hold):
                foods = self.tubs.of_run(run) if made in whole else self.tubs.of_made(run, made)
                if foods:
                    told.add((hold.state, _keys(foods)))
                    yield self._label(run, made.name, made, hold, foods), _key(run, made.name, foods)
        if not whole:
            hold = _longer(None, run.dish.keeps)
            foods = self.tubs.of_run(run)
            if hold is not None and _in_a_tub(hold) and (hold.state, _keys(foods)) not in told:
                yield self._label(run, run.dish.title, None, hold, foods), _key(run, run.dish.title, foods)

    def _label(self, run: Run, name: str, made: Made | None, hold: Hold, foods: tuple[Eaten, ...]) -> Label:
        at = self.made_at(run, made)
        rules = self.book.settings.safety
        since = at if at is None else self._since(run, made, at, set())
        use_by = None
        if at is not None and since is not None:
            use_by = shelf(rules, at, since, hold.state, hold, has_rice(foods), self.tongue)
        amount = None if made is None or made.amount is None else made.amount.scaled(run.factor)
        much = "" if amount is None else show_amount(amount, self.style, written=run.factor == 1).text
        return Label(
            name=name,
            dish=run.dish.key,
            title=run.dish.title,
            without=run.without,
            amount=amount,
            much=much,
            made=at,
            use_by=use_by,
            state=hold.state,
            keep=hold_text(hold._replace(back_in=None, back_gear=None), self.tongue),
            back="" if hold.back_in is None else hold_text(hold, self.tongue).rpartition(", ")[2],
            held=held_in(foods, rules),
            open=open_in(foods),
            rice=has_rice(foods),
        )

    def made_at(self, run: Run, made: Made | None) -> datetime | None:
        """When the plan has it made; of the whole dish, when its cooking ends. Plates made apart share what was made before."""
        if self.planned is None:
            return None
        problem, placed = self.planned.problem, self.planned.plan.placed
        step = None if made is None else run.dish.thing(made.thing).step
        own = [n for n, one in enumerate(problem.runs) if (one.dish, one.without) == (run.dish.key, run.without)]
        any_of = [n for n, one in enumerate(problem.runs) if one.dish == run.dish.key]
        for runs in (own, any_of):
            ends = [
                (task.step or 0, place.end)
                for place in placed
                for task in (problem.tasks[place.task],)
                if task.run in runs and task.work is Work.COOK and (step is None or (task.step or 0) <= step)
            ]
            if ends:
                # A step without work of its own is done when the one before it is.
                last = max(number for number, _ in ends)
                second = max(end for number, end in ends if step is None or number == last)
                return problem.origin + timedelta(seconds=second - second % 60)
        return None

    def _since(self, run: Run, made: Made | None, at: datetime, seen: set[tuple[str, str]]) -> datetime:
        """When the oldest chilled thing in it was made."""
        oldest = at
        sources = ((below, None) for below in self.tubs.drawn(run)) if made is None else self.tubs.sources(run, made)
        for other, thing in sources:
            key = (other.dish.key, thing or "")
            if key in seen:
                continue
            seen.add(key)
            for one in (made for step in other.dish.steps() for made in step.makes if not made.discarded):
                if thing is not None and one.thing != thing:
                    continue
                before = self.made_at(other, one)
                if before is not None and one.hold is not None and one.hold.state is State.CHILLED:
                    oldest = min(oldest, before, self._since(other, one, before, seen))
        return oldest


def _key(run: Run, name: str, foods: tuple[Eaten, ...]) -> tuple[str, str, frozenset[str]]:
    return run.dish.key, name, _keys(foods)


def _keys(foods: tuple[Eaten, ...]) -> frozenset[str]:
    return frozenset(food.key for food, _ in foods)


def _is_whole(run: Run, made: Made) -> bool:
    """Whether it is what the dish ends in: made in its last strand by its last step."""
    steps = run.dish.steps()
    return bool(steps) and made in steps[-1].makes


def _longer(hold: Hold | None, keeps: tuple[Hold, ...]) -> Hold | None:
    """How it is kept until it is wanted: the shortest of what is not frozen, for a tub in the fridge is the one that goes off."""
    known = (*keeps, *(() if hold is None else (hold,)))
    fresh = [one for one in known if one.state is not State.FROZEN]
    return min(fresh or known, key=lambda one: one.low, default=None)


def _in_a_tub(hold: Hold) -> bool:
    if hold.state in (State.CHILLED, State.FROZEN):
        return True
    return hold.state is State.ROOM and hold.low >= _SHORTEST_S

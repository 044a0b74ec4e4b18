"""The marks that leave a choice, what each choice brings in, and who eats of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from recipec.larder.ingredient import Presence
from recipec.larder.larder import Larder
from recipec.larder.names import normal_name
from recipec.measure.language import ENGLISH, Language
from recipec.model.book import Book
from recipec.model.dish import Dish, Role, Use
from recipec.model.event import Event, Need, NeedKind
from recipec.plan.allergens import foods_in, unmarked_in
from recipec.plan.links import Links
from recipec.plan.needs import Food, Harm, new_harms


@dataclass(frozen=True, slots=True)
class Mark:
    """A mark with several choices. `touches` are things whose need may change with it: keys of what is bought, and `dish:` keys."""

    dish: Dish
    use: Use
    touches: frozenset[str]

    @property
    def key(self) -> tuple[str, int]:
        """As `Chosen` has it."""
        return (self.dish.key, self.use.number)

    def choices(self) -> tuple[Use, ...]:
        """The first choice and the others."""
        return (self.use, *self.use.choices)


@dataclass(frozen=True, slots=True)
class Eater:
    """A guest of one event who asked for something."""

    event: Event
    seat: int
    need: Need


@dataclass(slots=True)
class Menu:
    """What some events may be made of, whichever choices are taken."""

    book: Book
    larder: Larder
    events: tuple[Event, ...]
    links: Links = field(init=False)
    below: dict[str, frozenset[str]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.links = Links(self.book)

    def marks(self) -> tuple[Mark, ...]:
        """Every mark with a choice in a dish that may be made, by dish and place."""
        dishes = sorted({key for root in self._roots() for key in self.reach(root)})
        found = []
        for key in dishes:
            dish = self.links.dish(key)
            assert dish is not None, "only dishes that were found are reached"
            for use in dish.uses:
                if use.choices and use.role in (Role.BUY, Role.OUR):
                    found.append(Mark(dish, use, frozenset(self._touched(dish, use))))
        return tuple(found)

    def _roots(self) -> Iterator[str]:
        for event in self.events:
            for course in event.courses:
                yield from (order.dish for order in course.orders if order.dish and self.links.dish(order.dish))

    def reach(self, root: str) -> frozenset[str]:
        """A dish and every dish that may go into it."""
        known = self.below.get(root)
        if known is None:
            todo, seen = [root], {root}
            while todo:
                dish = self.links.dish(todo.pop())
                for use in () if dish is None else dish.uses:
                    for choice in (use, *use.choices):
                        below = None if dish is None else self.links.meant(dish, choice)
                        if below is not None and below.key not in seen:
                            seen.add(below.key)
                            todo.append(below.key)
            known = self.below[root] = frozenset(seen)
        return known

    def _touched(self, dish: Dish, use: Use) -> Iterator[str]:
        for choice in (use, *use.choices):
            yield from self.bought(dish, choice)
            below = self.links.meant(dish, choice)
            if below is not None:
                yield from (f"dish:{key}" for key in self.reach(below.key))
        # Orders with something left out make versions of a dish, and which they are depends on its choices; whole batches show it.
        for root in self._split():
            if dish.key in self.reach(root):
                yield f"version:{root}"

    def _split(self) -> frozenset[str]:
        return frozenset(
            order.dish
            for event in self.events
            for course in event.courses
            for order in course.orders
            if order.dish and order.without and any(self._whole(key) for key in self.reach(order.dish))
        )

    def _whole(self, key: str) -> bool:
        dish = self.links.dish(key)
        return dish is not None and dish.whole_batches

    def bought(self, dish: Dish, choice: Use) -> frozenset[str]:
        """Keys of all that a choice may bring onto the list, whichever choices are taken below it."""
        below = self.links.meant(dish, choice)
        if below is None:
            return frozenset((choice.item or normal_name(choice.thing),))
        return frozenset(
            one.item or normal_name(one.thing)
            for key in self.reach(below.key)
            for use in _uses(self.links.dish(key))
            for one in (use, *use.choices)
            if one.role is Role.BUY
        )

    # ------------------------------------------------------------ guests

    def foods(self, dish: Dish, choice: Use) -> tuple[Food, ...]:
        """What is eaten with a choice, first choices below it; a dish of which nothing is known stands as a food nobody knows."""
        foods = [
            Food(use.name, None if use.item is None else self.larder.get(use.item))
            for use in foods_in(self.links, dish, (choice,))
        ]
        return (
            *foods,
            *(Food(name, None) for name in unmarked_in(self.links, dish, (choice,)) if choice.role is Role.OUR),
        )

    def eaters(self, mark: Mark) -> tuple[Eater, ...]:
        """The guests who may be served of a mark: those an order is for, or all; each need once."""
        found = []
        for event in self.events:
            seats: set[int] = set()
            for course in event.courses:
                for order in course.orders:
                    if order.dish and self.links.dish(order.dish) and mark.dish.key in self.reach(order.dish):
                        seats.update(order.seats or (seat.number for seat in event.seats))
            found += [
                Eater(event, seat.number, need) for seat in event.seats if seat.number in seats for need in seat.needs
            ]
        return tuple(found)

    def against(self, mark: Mark, choice: Use) -> Iterator[tuple[Eater, Harm]]:
        """Whom a choice would harm where the first choice does not."""
        before, after = self.foods(mark.dish, mark.use), self.foods(mark.dish, choice)
        for eater in self.eaters(mark):
            for harm in new_harms(eater.need, before, after, self.larder):
                yield eater, harm


def _uses(dish: Dish | None) -> Iterable[Use]:
    return () if dish is None else dish.uses


def reason(eater: Eater, harm: Harm, several: bool, tongue: Language = ENGLISH) -> str:
    """Why a choice is barred, in a sentence."""
    who = tongue.say("seat %(number)s", number=eater.seat)
    if several:
        who = tongue.say("seat %(number)s of %(event)s", number=eater.seat, event=eater.event.title)
    return f"{_asked(eater.need, who, tongue)}: {_brings(harm, tongue)}"


def _asked(need: Need, who: str, tongue: Language) -> str:
    what = need.what
    match need.kind:
        case NeedKind.ALLERGIC:
            return tongue.say("%(seat)s is allergic to %(what)s", seat=who, what=what)
        case NeedKind.DIET:
            diet = tongue.say(what, context="diet")
            if what.startswith("no "):
                return tongue.say("%(seat)s eats %(diet)s", seat=who, diet=diet)
            return tongue.say("%(seat)s is %(diet)s", seat=who, diet=diet)
        case NeedKind.RATHER_NOT:
            return tongue.say("%(seat)s would rather not have %(what)s", seat=who, what=what)
        case NeedKind.WITHOUT:
            return tongue.say("%(seat)s eats no %(what)s", seat=who, what=what.removeprefix("no "))


def _brings(harm: Harm, tongue: Language) -> str:
    match harm.presence:
        case Presence.CONTAINS:
            return tongue.say("this brings %(food)s", food=harm.food.name)
        case Presence.MAY_CONTAIN:
            return tongue.say("this brings %(food)s, which may not suit", food=harm.food.name)
        case Presence.UNKNOWN:
            return tongue.say("this brings %(food)s, and whether that suits is not known", food=harm.food.name)
        case Presence.NOT_IN_RECIPE:
            return ""

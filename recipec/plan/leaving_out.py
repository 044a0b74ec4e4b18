"""What goes when a food is left out of a dish: the marks, results and steps, through results and `our` dishes (rule 26).

A result, and a dish taken by `our`, is *made from* a food when nothing else of any weight is in it, or when that food is at least half of
its weight as bought, water not counted; the cut at half is ours. What is made from it goes with it: its other foods too. Everything else
it enters is made apart without it. Where a weight is not known nothing is taken to be made from it, and it is made apart.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from types import MappingProxyType
from typing import NamedTuple, TypeAlias

from recipec.larder.larder import Larder
from recipec.larder.names import normal_name
from recipec.measure.quantity import Amount, Dimension
from recipec.model.dish import Dish, Flag, Role, Thing, Use
from recipec.plan.batches_of_dish import Batch, batches_in
from recipec.plan.joining import weigh
from recipec.plan.links import Links
from recipec.plan.scale import written_plates

Chosen: TypeAlias = Mapping[tuple[str, int], int]
"""Which choice of a mark counts, by dish and number of the use: the place among (use, *use.choices). The first where nothing is said."""

FIRST: Chosen = MappingProxyType({})
"""Every mark as it is written first."""

_PINCHES = frozenset({"pinch", "dash", "drop", "splash", "knob", "handful", "sprig", "leaf"})
_NO_WEIGHT = frozenset({Flag.TO_TASTE, Flag.TO_SERVE})


class Left(NamedTuple):
    """What one dish loses. `gone` are numbers of uses, of every role; `swapped` those for which another choice counts now; `changed`
    those of dishes that are themselves made without it. `things` and `steps` are gone whole, `results` are the names of those things
    that were made. `whole` when nothing is left of the dish, or it is made from what goes.
    """

    foods: tuple[str, ...] = ()
    gone: frozenset[int] = frozenset()
    swapped: tuple[tuple[int, Use], ...] = ()
    changed: frozenset[int] = frozenset()
    things: frozenset[str] = frozenset()
    steps: frozenset[int] = frozenset()
    results: tuple[str, ...] = ()
    whole: bool = False

    @property
    def touched(self) -> frozenset[int]:
        """Numbers of the uses that are not what they are for everyone else."""
        return self.gone | self.changed | frozenset(number for number, _ in self.swapped)


NOTHING = Left()
"""Nothing is left out."""


@dataclass(slots=True)
class Leaving:
    """What goes of the dishes of one book, each worked out once."""

    links: Links
    larder: Larder
    chosen: Chosen = field(default_factory=lambda: FIRST)
    _known: dict[tuple[str, tuple[str, ...]], Left] = field(default_factory=dict)

    def left(self, dish: Dish, foods: tuple[str, ...]) -> Left:
        """What the dish loses without `foods`. Walked without recursion: chains may be long. A circle is cut where it closes."""
        if not foods:
            return NOTHING
        todo, begun = [dish], set[str]()
        while todo:
            part = todo[-1]
            if (part.key, foods) in self._known:
                todo.pop()
                continue
            below = [] if part.key in begun else [one for _, one in self._below(part) if one.key not in begun]
            begun.add(part.key)
            below = [one for one in below if (one.key, foods) not in self._known]
            if below:
                todo += below
                continue
            self._known[part.key, foods] = self._one(part, foods)
            todo.pop()
        return self._known[dish.key, foods]

    def kept(self, dish: Dish, foods: tuple[str, ...]) -> Iterator[Use]:
        """Of every mark that brings something in, the choice that counts; none where it goes."""
        left = self.left(dish, foods)
        swapped = dict(left.swapped)
        for use in dish.uses:
            if use.role in (Role.BUY, Role.OUR) and use.number not in left.gone:
                yield swapped.get(use.number) or self.choices(dish, use)[0]

    def matter(self, dish: Dish, foods: tuple[str, ...]) -> set[str]:
        """Of the foods left out those that bar a choice which would count otherwise; of a second choice too, when the first is barred."""
        found: set[str] = set()
        todo, seen = [dish], {dish.key}
        while todo:
            part = todo.pop()
            for use in part.uses:
                if use.role not in (Role.BUY, Role.OUR):
                    continue
                for choice in self.choices(part, use):
                    barred = {food for food in foods if self.is_food(choice, food, part)}
                    found |= barred
                    below = self.links.meant(part, choice)
                    if below is not None and not barred and below.key not in seen:
                        seen.add(below.key)
                        todo.append(below)
                    if not barred and (below is None or not self.left(below, foods).whole):
                        break
        return found

    def choices(self, dish: Dish, use: Use) -> tuple[Use, ...]:
        """All choices of a mark, the chosen one first."""
        choices = (use, *use.choices)
        place = self.chosen.get((dish.key, use.number), 0)
        return (choices[place], *choices[:place], *choices[place + 1 :]) if place else choices

    def is_food(self, use: Use, food: str, dish: Dish) -> bool:
        """Whether a mark is that very food, or that dish of the book."""
        if use.role is Role.OUR:
            below, named = self.links.meant(dish, use), self.links.named(food)
            return below is not None and named is not None and below.key == named.key
        match = self.larder.find(food)
        if match is not None and use.item == match.ingredient.key:
            return True
        return normal_name(food) in (use.thing, normal_name(use.name))

    def named(self, dish: Dish, foods: tuple[str, ...]) -> tuple[str, ...]:
        """Each food by the name the dish has it under: `nuts` may be the only `pine nuts` in it."""
        return tuple(self._name(dish, food) for food in foods)

    def holds(self, dish: Dish, food: str) -> bool:
        """Whether a mark of it, or of a dish it is made of, is that food."""
        return any(self.is_food(use, food, part) for part in self.all_of(dish) for use in self.kept(part, ()))

    def all_of(self, dish: Dish, foods: tuple[str, ...] = ()) -> Iterator[Dish]:
        """A dish and all the dishes it is made of without `foods`, each once."""
        todo, seen = [dish], {dish.key}
        while todo:
            part = todo.pop()
            yield part
            for use in self.kept(part, foods):
                below = self.links.meant(part, use)
                if below is not None and below.key not in seen:
                    seen.add(below.key)
                    todo.append(below)

    def _name(self, dish: Dish, food: str) -> str:
        if self.holds(dish, food):
            return food
        name = f" {normal_name(food)}"
        ends = {
            known
            for within in self.all_of(dish)
            for use in self.kept(within, ())
            for known in (normal_name(use.name),)
            if known.endswith(name)
        }
        return ends.pop() if len(ends) == 1 else food

    # ------------------------------------------------------------ one dish

    def _below(self, dish: Dish) -> Iterator[tuple[Use, Dish]]:
        for use in dish.uses:
            if use.role is Role.OUR:
                for choice in (use, *use.choices):
                    below = self.links.meant(dish, choice)
                    if below is not None:
                        yield use, below

    def _one(self, dish: Dish, foods: tuple[str, ...]) -> Left:
        gone: set[int] = set()
        changed: set[int] = set()
        swapped: list[tuple[int, Use]] = []
        for use in dish.uses:
            if use.role not in (Role.BUY, Role.OUR):
                continue
            choices = self.choices(dish, use)
            kept = next((one for one in choices if not self.barred(dish, one, foods)), None)
            if kept is None:
                gone.add(use.number)
                continue
            if kept is not choices[0]:
                swapped.append((use.number, kept))
            below = self.links.meant(dish, kept)
            if below is not None and self._known.get((below.key, foods), NOTHING).touched:
                changed.add(use.number)
        if not gone:
            return Left(foods, swapped=tuple(swapped), changed=frozenset(changed))
        made = _Made(dish, self.larder, gone)
        made.follow()
        whole = made.is_made_from(
            [use for use in dish.uses if use.role in (Role.BUY, Role.OUR)], dict.fromkeys(made.gone, True)
        )
        names = {one.thing: one.name for step in dish.steps() for one in step.makes if not one.discarded}
        return Left(
            foods,
            frozenset(made.gone),
            tuple(pair for pair in swapped if pair[0] not in made.gone),
            frozenset(changed - made.gone),
            frozenset(made.things),
            frozenset(made.steps),
            tuple(name for thing, name in names.items() if thing in made.things),
            whole,
        )

    def barred(self, dish: Dish, choice: Use, foods: tuple[str, ...]) -> bool:
        """Whether a choice is what is left out, or a dish made from it. After `left` of the same dish and foods."""
        if any(self.is_food(choice, food, dish) for food in foods):
            return True
        below = self.links.meant(dish, choice)
        return below is not None and self._known.get((below.key, foods), NOTHING).whole


@dataclass(slots=True)
class _Made:
    """One dish, followed in the order of its text from what goes to what is made from it."""

    dish: Dish
    larder: Larder
    gone: set[int]
    things: set[str] = field(default_factory=set)
    steps: set[int] = field(default_factory=set)
    known: dict[str, Thing] = field(init=False)

    def __post_init__(self) -> None:
        self.known = {thing.key: thing for thing in self.dish.things}

    def follow(self) -> None:
        """`gone`, `things` and `steps` are complete afterwards."""
        self._bought_things()
        for batch in batches_in(self.dish):
            own = [self.dish.uses[number] for number in batch.uses]
            # A mention of what the batch itself brought in is no second helping of it.
            brought = {use.thing for use in own if use.role in (Role.BUY, Role.OUR)}
            taken = [use for use in own if use.role in (Role.BUY, Role.OUR) or use.thing not in brought]
            gone = {use.number: use.number in self.gone or use.thing in self.things for use in taken}
            carried = batch.carries is not None and batch.carries not in self.things
            if not batch.final and not carried and self.is_made_from(taken, gone) and not self._wanted(batch, own):
                self.gone |= {use.number for use in own}
                self.things |= set(batch.made)
                self.steps |= set(batch.steps)
                self._bought_things()
        self.gone |= {
            use.number for use in self.dish.uses if use.role in (Role.TAKE, Role.HANDLE) and use.thing in self.things
        }

    def _bought_things(self) -> None:
        """A thing goes when every mark that brings it in does."""
        marks: dict[str, set[int]] = {}
        for use in self.dish.uses:
            if use.role in (Role.BUY, Role.OUR):
                marks.setdefault(use.thing, set()).add(use.number)
        self.things |= {thing for thing, numbers in marks.items() if numbers <= self.gone}

    def _wanted(self, batch: Batch, own: Iterable[Use]) -> bool:
        """Whether something else needs a food that comes in here and does not go by itself."""
        stays = {use.thing for use in own if use.role in (Role.BUY, Role.OUR) and use.number not in self.gone}
        later = (use for use in self.dish.uses if use.role in (Role.TAKE, Role.HANDLE) and use.number not in batch.uses)
        return any(use.thing in stays for use in later)

    def is_made_from(self, uses: Iterable[Use], gone: Mapping[int, bool]) -> bool:
        """Whether what goes is all of these, or at least half of their weight."""
        goes = stays = Fraction(0)
        any_goes, unknown, more = False, False, False
        for use in uses:
            weight = self._weight(use)
            if gone.get(use.number, False):
                any_goes = True
                goes += weight or 0
                unknown |= weight is None
            else:
                stays += weight or 0
                unknown |= weight is None
                more |= weight is None or weight > 0
        return any_goes and (not more or (not unknown and goes >= stays))

    def _weight(self, use: Use) -> Fraction | None:
        """Grams of a mark in the dish as written; 0 for water and what is only seasoning, None when unknown."""
        if use.item is not None and use.item.rpartition(" ")[2] == "water":
            return Fraction(0)
        if use.flags & _NO_WEIGHT:
            return Fraction(0)
        item = None if use.item is None else self.larder.get(use.item)
        thing = self.known.get(use.thing)
        amount = use.amount
        if amount is None and use.role in (Role.TAKE, Role.HANDLE) and thing is not None:
            amount = thing.amount
            if amount is not None and use.fraction is not None:
                amount = amount.scaled(use.fraction)
            item = None if thing.item is None else self.larder.get(thing.item)
        if amount is None:
            return None
        if amount.terms and all(term.unit.name in _PINCHES for term in amount.terms):
            return Fraction(0)
        part = None if item is None or use.part is None else item.part(use.part)
        number = amount.total()
        if part is not None and number is not None and number.unit.name == "piece":
            return number.high * part.amount
        found = Fraction(0)
        for term in weigh(amount, item, use.before):
            weight = term.grams
            if weight is None and use.role is not Role.BUY:
                weight = _as_water(term.amount)
            if weight is None:
                return None
            found += weight
        if Flag.PER_PLATE in use.flags and use.role in (Role.BUY, Role.OUR):
            plates = written_plates(self.dish)
            return None if plates is None else found * plates
        return found


def _as_water(amount: Amount) -> Fraction | None:
    """A gram a millilitre, for what the kitchen makes."""
    term = amount.contents() or amount.terms[0]
    return term.base_high if term.unit.dimension is Dimension.VOLUME else None

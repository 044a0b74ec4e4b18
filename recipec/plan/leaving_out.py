"""What goes when something is left out of a dish: the marks, results and steps, through results and `our` dishes (rule 26).

What is left out is a food, a dish taken by `our`, or a result or strand by its name; a name that is several of these leaves out all of
them, in every dish that it is made of. A result, and a dish taken by `our`, is *made from* a food when nothing else of any weight is in it,
or when that food is at least half of its weight as bought, water not counted; the cut at half is ours. What is made from it goes with it:
its other foods too. Everything else it enters is made apart without it. Where a weight is not known nothing is taken to be made from it,
and it is made apart.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import NamedTuple, TypeAlias

from recipec.base.span import Span
from recipec.larder.larder import Larder
from recipec.larder.names import normal_name
from recipec.model.dish import Dish, Role, Strand, ThingKind, Use
from recipec.plan.links import Links
from recipec.plan.made_from import Made, Stuck

Chosen: TypeAlias = Mapping[tuple[str, int], int]
"""Which choice of a mark counts, by dish and number of the use: the place among (use, *use.choices). The first where nothing is said."""

FIRST: Chosen = MappingProxyType({})
"""Every mark as it is written first."""


class Left(NamedTuple):
    """What one dish loses. `gone` are numbers of uses, of every role; `swapped` those for which another choice counts now; `changed`
    those of dishes that are themselves made without it. `things` and `steps` are gone whole, `results` are the names of those things
    that were made. `whole` when nothing is left of the dish, or it is made from what goes. `stuck` are results that were to go and can't
    be taken out: they are made whole, and only not used.
    """

    foods: tuple[str, ...] = ()
    gone: frozenset[int] = frozenset()
    swapped: tuple[tuple[int, Use], ...] = ()
    changed: frozenset[int] = frozenset()
    things: frozenset[str] = frozenset()
    steps: frozenset[int] = frozenset()
    results: tuple[str, ...] = ()
    whole: bool = False
    stuck: tuple[Stuck, ...] = ()

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
    _results: dict[str, Mapping[str, frozenset[str]]] = field(default_factory=dict)

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
            found.update(food for food in foods if self.results(part, food))
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
        # `poached pears` is a result's name, not the pears.
        if match is not None and not match.before and use.item == match.ingredient.key:
            return True
        return normal_name(food) in (use.thing, normal_name(use.name))

    def results(self, dish: Dish, name: str) -> frozenset[str]:
        """Keys of the things that a dish itself makes under that name: results that are not thrown away, and strands."""
        known = self._results.get(dish.key)
        if known is None:
            known = self._results[dish.key] = results_by_name(dish)
        return known.get(normal_name(name), frozenset())

    def brings(self, use: Use, foods: tuple[str, ...], dish: Dish) -> bool:
        """Whether a mark brings in what is left out: that food, or something that comes in for that result alone."""
        if any(self.is_food(use, food, dish) for food in foods):
            return True
        return any(self.results(dish, food) for food in foods) and use.number in self.left(dish, foods).gone

    def named(self, dish: Dish, foods: tuple[str, ...]) -> tuple[str, ...]:
        """Each food or result by the name the dish has it under: `nuts` may be the only `pine nuts` in it."""
        return tuple(self._name(dish, plain_name(food)) for food in foods)

    def holds(self, dish: Dish, food: str) -> bool:
        """Whether a mark of it, or of a dish it is made of, is that food, or makes a result of that name."""
        return any(
            self.results(part, food) or any(self.is_food(use, food, part) for use in self.kept(part, ()))
            for part in self.all_of(dish)
        )

    def ends(self, dish: Dish, food: str) -> dict[str, Span]:
        """The names that end in these words, and where each is first met. A result made from the only such food is no second one."""
        words = f" {normal_name(food)}"
        foods: dict[str, Span] = {}
        made: dict[str, Span] = {}
        for part in self.all_of(dish):
            for use in self.kept(part, ()):
                if normal_name(use.name).endswith(words):
                    foods.setdefault(normal_name(use.name), use.span)
            origins = {thing.key: thing.origin for thing in part.things}
            for name, keys in results_by_name(part).items():
                if name.endswith(words):
                    made.setdefault(name, min(origins[key] for key in keys))
        if len(foods) == 1:
            gone = {
                name
                for part in self.all_of(dish)
                for name, keys in results_by_name(part).items()
                if keys <= self._without(dish, part, tuple(foods)).things
            }
            made = {name: span for name, span in made.items() if name not in gone}
        return {**made, **foods}

    def _without(self, dish: Dish, part: Dish, foods: tuple[str, ...]) -> Left:
        self.left(dish, foods)
        return self.left(part, foods)

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
        match = self.larder.find(food)
        if match is not None and match.before and self.holds(dish, match.ingredient.name):
            return match.ingredient.name
        ends = self.ends(dish, food)
        return next(iter(ends)) if len(ends) == 1 else food

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
        named = frozenset(thing for food in foods for thing in self.results(dish, food))
        if not gone and not named:
            return Left(foods, swapped=tuple(swapped), changed=frozenset(changed))
        made = Made(dish, self.larder, set(gone), named)
        made.follow()
        whole = made.whole
        if named and gone:
            alone = Made(dish, self.larder, set(gone))
            alone.follow()
            whole = whole or alone.whole
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
            tuple(made.stuck),
        )

    def barred(self, dish: Dish, choice: Use, foods: tuple[str, ...]) -> bool:
        """Whether a choice is what is left out, or a dish made from it. After `left` of the same dish and foods."""
        if any(self.is_food(choice, food, dish) for food in foods):
            return True
        below = self.links.meant(dish, choice)
        return below is not None and self._known.get((below.key, foods), NOTHING).whole


def results_by_name(dish: Dish) -> Mapping[str, frozenset[str]]:
    """What a dish makes, by the names a cook has for it: those of its arrows, and `crumb` of `For the crumb:`."""
    found: dict[str, set[str]] = {}
    for thing in dish.things:
        if thing.kind is ThingKind.MADE and not thing.discarded:
            found.setdefault(normal_name(thing.name), set()).add(thing.key)
    for strand in dish.strands:
        if strand.makes is not None and strand.heading:
            found.setdefault(strand_name(strand), set()).add(strand.makes)
    return {name: frozenset(keys) for name, keys in found.items()}


def plain_name(words: str) -> str:
    """`crumb` of `the crumb`."""
    head, _, rest = words.partition(" ")
    return rest.strip() or words if head.casefold() == "the" else words


def strand_name(strand: Strand) -> str:
    """`crumb` of `For the crumb`."""
    words = normal_name(strand.heading.removesuffix(":").partition("(")[0])
    return words.removeprefix("for the ").removeprefix("for ")

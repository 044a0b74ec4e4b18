"""All that is eaten with a plate of a dish, as the event orders it: through the dishes it is made of, without what is left out.

It is read off what would be made (`plan.demand`), so that a guest's paper and the market list can't tell two stories. What could not be
followed there counts whole: nothing is taken for left out that is not known to be.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple

from recipec.base.span import Span
from recipec.larder.larder import Larder
from recipec.model.book import Book
from recipec.model.dish import Dish, Role, Use
from recipec.plan.allergens import foods_in, unmarked_in
from recipec.plan.demand import Ask, Run, demand
from recipec.plan.links import Links
from recipec.plan.needs import Food
from recipec.plan.unmarked import spoken_in


class Eaten(NamedTuple):
    """A food, and the mark that brings it in; of a dish without marks its title."""

    food: Food
    span: Span


class Version(NamedTuple):
    """A dish as it is made for someone: `without` are the foods left out that change it. `eaten` is everything in it, through the dishes
    it is made of; `parts` are those dishes, each once, in the order they are made."""

    key: str
    title: str
    without: tuple[str, ...]
    eaten: tuple[Eaten, ...]
    parts: tuple[Version, ...] = ()

    def foods(self) -> tuple[Food, ...]:
        """The foods alone."""
        return tuple(one.food for one in self.eaten)


def version_of(book: Book, larder: Larder, key: str, without: tuple[str, ...] = ()) -> Version:
    """One dish of the book, by its key, without those foods."""
    return _Walk(book, larder, Links(book)).version(key, without)


def unknown_dish(written: str, span: Span) -> Version:
    """What stands for a dish that the book does not have."""
    return Version("", written, (), (Eaten(Food(written, None), span),))


_Made = tuple[str, tuple[str, ...]]


@dataclass(slots=True)
class _Walk:
    book: Book
    larder: Larder
    links: Links

    def version(self, key: str, without: tuple[str, ...]) -> Version:
        dish = self.links.dish(key)
        assert dish is not None, "only dishes of the book have versions"
        runs = demand(self.book, self.larder, (Ask(key, Fraction(1), None, without),)).runs
        made: dict[_Made, Run] = {(run.dish.key, run.without): run for run in runs}
        root = next((run for run in reversed(runs) if run.dish.key == key), None)
        if root is None:
            return Version(key, dish.title, (), tuple(self._whole(dish)))
        below = [run for run in self._reached(root, made) if run is not root]
        order = {id(run): place for place, run in enumerate(runs)}
        parts = tuple(
            Version(run.dish.key, run.dish.title, run.without, tuple(self._eaten(run, made)))
            for run in sorted(below, key=lambda run: order[id(run)])
        )
        return Version(key, dish.title, root.without, tuple(self._eaten(root, made)), parts)

    def _reached(self, root: Run, made: dict[_Made, Run]) -> Iterator[Run]:
        todo, seen = [root], {(root.dish.key, root.without)}
        while todo:
            run = todo.pop()
            yield run
            for draw in run.draws:
                target = (draw.dish, draw.without)
                if target in made and target not in seen:
                    seen.add(target)
                    todo.append(made[target])

    def _eaten(self, root: Run, made: dict[_Made, Run]) -> Iterator[Eaten]:
        for run in self._reached(root, made):
            for use in run.bought:
                yield self._one(use)
            if not any(use.role in (Role.BUY, Role.OUR) for use in run.dish.uses):
                yield Eaten(Food(f"{run.dish.title} (no food is marked in it)", None), run.dish.title_span)
            for spoken in spoken_in(self.links, self.larder, run.dish):
                item = spoken.item._replace(allergens=(), may_contain=spoken.brings)
                yield Eaten(Food(f"{spoken.words} (only in the text)", item), spoken.span)
            for draw in run.draws:
                if (draw.dish, draw.without) not in made:
                    yield from self._through(run.dish, draw.use)
            for use in self._untold(run, made):
                yield from self._through(run.dish, use)

    def _untold(self, run: Run, made: dict[_Made, Run]) -> Iterator[Use]:
        """Marks of other dishes that no draw speaks of, though nothing says that they are left out."""
        told = {use.number for use in run.bought} | {draw.use.number for draw in run.draws}
        for use in run.dish.uses:
            if use.role is Role.OUR and use.number not in told and use.number not in run.left.gone:
                below = self.links.meant(run.dish, use)
                if below is None or not any(key == below.key for key, _ in made):
                    yield use

    def _whole(self, dish: Dish) -> Iterator[Eaten]:
        for use in foods_in(self.links, dish, dish.uses):
            yield self._one(use)
        for name in unmarked_in(self.links, dish, dish.uses):
            yield Eaten(Food(name, None), dish.title_span)

    def _through(self, dish: Dish, use: Use) -> Iterator[Eaten]:
        for below in foods_in(self.links, dish, (use,)):
            yield self._one(below)
        if self.links.meant(dish, use) is not None:
            for name in unmarked_in(self.links, dish, (use,)):
                yield Eaten(Food(name, None), use.span)

    def _one(self, use: Use) -> Eaten:
        return Eaten(Food(use.name, None if use.item is None else self.larder.get(use.item)), use.span)

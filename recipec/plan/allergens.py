"""What may be said of a dish's allergens, through the dishes it is made with. Unknown is never free."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from recipec.larder.ingredient import ALLERGENS
from recipec.larder.larder import Larder
from recipec.larder.names import normal_name
from recipec.model.dish import Dish, Role, Use
from recipec.plan.links import Links


@dataclass(frozen=True, slots=True)
class AllergenAnswer:
    """Keys of `larder.ingredient.ALLERGENS` in their order, and the names of what is not known of.

    `unknown` are foods whose allergens the larder does not know, or knows only in part, dishes that could not be found, and
    dishes in which no food is marked, of which nothing is known. As long as it is not empty nothing may be called free of
    anything.
    """

    contains: tuple[str, ...]
    may_contain: tuple[str, ...]
    unknown: tuple[str, ...]


def allergens_of(links: Links, larder: Larder, dish: Dish) -> AllergenAnswer:
    """Of a dish as it is usually made, by its marks: the first choice of each counts, optional food too. `unmarked.allergens_said` has what
    papers say."""
    return _answer(larder, foods_in(links, dish, dish.uses), unmarked_in(links, dish, dish.uses))


def allergens_of_use(links: Links, larder: Larder, dish: Dish, use: Use) -> AllergenAnswer:
    """Of one mark, or of one choice of it."""
    return _answer(larder, foods_in(links, dish, (use,)), unmarked_in(links, dish, (use,)))


def foods_in(links: Links, dish: Dish, uses: tuple[Use, ...]) -> Iterator[Use]:
    """Everything bought, through the dishes of the book; a dish that cannot be found stands as its own mark."""
    for within, marks in made_of(links, dish, uses):
        for use in marks:
            if use.role is Role.BUY or (use.role is Role.OUR and links.meant(within, use) is None):
                yield use


def unmarked_in(links: Links, dish: Dish, uses: tuple[Use, ...]) -> Iterator[str]:
    """Dishes that bring nothing in by a mark: what is in them stands in the prose, if anywhere."""
    for within, marks in made_of(links, dish, uses):
        if not any(use.role in (Role.BUY, Role.OUR) for use in marks):
            yield f"{within.title} (no food is marked in it)"


def made_of(links: Links, dish: Dish, uses: tuple[Use, ...]) -> Iterator[tuple[Dish, tuple[Use, ...]]]:
    """The dish with those marks, and with all theirs the dishes of the book that it is made with, each once."""
    todo = [(dish, uses)]
    seen: set[str] = set()
    while todo:
        within, marks = todo.pop()
        yield within, marks
        for use in marks:
            below = links.meant(within, use)
            if below is not None and below.key not in seen:
                seen.add(below.key)
                todo.append((below, below.uses))


def _answer(larder: Larder, foods: Iterator[Use], unmarked: Iterator[str]) -> AllergenAnswer:
    contains: set[str] = set()
    may: set[str] = set()
    unknown: dict[str, str] = {name: name for name in unmarked}
    for use in foods:
        item = None if use.item is None else larder.get(use.item)
        if item is None:
            unknown.setdefault(normal_name(use.name), use.name)
            continue
        contains.update(item.allergens or ())
        may.update(item.may_contain)
        if item.allergens is None or item.open:
            unknown.setdefault(item.key, item.name)
    return AllergenAnswer(
        tuple(allergen for allergen in ALLERGENS if allergen in contains),
        tuple(allergen for allergen in ALLERGENS if allergen in may and allergen not in contains),
        tuple(sorted(unknown.values(), key=lambda name: (name.casefold(), name))),
    )

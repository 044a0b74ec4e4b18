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

    `unknown` are foods whose allergens the larder does not know, or knows only in part, and dishes that could not be found.
    As long as it is not empty nothing may be called free of anything.
    """

    contains: tuple[str, ...]
    may_contain: tuple[str, ...]
    unknown: tuple[str, ...]


def allergens_of(links: Links, larder: Larder, dish: Dish) -> AllergenAnswer:
    """Of a dish as it is usually made: the first choice of every mark counts, optional food too."""
    return _answer(larder, _foods(links, dish, dish.uses))


def allergens_of_use(links: Links, larder: Larder, dish: Dish, use: Use) -> AllergenAnswer:
    """Of one mark, or of one choice of it."""
    return _answer(larder, _foods(links, dish, (use,)))


def _foods(links: Links, dish: Dish, uses: tuple[Use, ...]) -> Iterator[Use]:
    """Everything bought, through the dishes of the book; a dish that cannot be found stands as its own mark."""
    todo = [(dish, uses)]
    seen: set[str] = set()
    while todo:
        within, marks = todo.pop()
        for use in marks:
            if use.role is Role.BUY:
                yield use
            elif use.role is Role.OUR:
                below = links.meant(within, use)
                if below is None:
                    yield use
                elif below.key not in seen:
                    seen.add(below.key)
                    todo.append((below, below.uses))


def _answer(larder: Larder, foods: Iterator[Use]) -> AllergenAnswer:
    contains: set[str] = set()
    may: set[str] = set()
    unknown: dict[str, str] = {}
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

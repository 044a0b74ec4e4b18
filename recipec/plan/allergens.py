"""What may be said of a dish's allergens, through the dishes it is made with. Unknown is never free."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class AllergenAnswer:
    """Keys of `larder.ingredient.ALLERGENS` in their order, and the names of what is not known of.

    `unknown` are foods whose allergens the larder does not know, or knows only in part, and dishes that could not be found.
    As long as it is not empty nothing may be called free of anything.
    """

    contains: tuple[str, ...]
    may_contain: tuple[str, ...]
    unknown: tuple[str, ...]

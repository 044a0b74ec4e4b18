"""Food that a dish speaks of outside a mark, and that would bring an allergen which none of its marks brings.

`Finish with a little butter`: it is on no list, and nothing has been reckoned of it. Words for what is in hand already (`spoon the butter
over`) bring nothing: a food, or an allergen, that a mark of the dish brings raises nothing.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from recipec.base.finding import Finding
from recipec.base.span import Span
from recipec.larder.ingredient import ALLERGENS, Ingredient
from recipec.larder.larder import Larder
from recipec.model.dish import Dish
from recipec.plan.allergens import AllergenAnswer, allergens_of, made_of
from recipec.plan.links import Links
from recipec.plan.spoken_foods import spoken_foods


class Spoken(NamedTuple):
    """A food of the larder in plain words of a step, the allergens that no mark of the dish brings, and where."""

    words: str
    item: Ingredient
    brings: tuple[str, ...]
    span: Span


def unmarked_findings(links: Links, larder: Larder, dish: Dish) -> Iterator[Finding]:
    """A warning for each such food."""
    for spoken in spoken_in(links, larder, dish):
        groups = " and ".join(spoken.brings)
        be = "is" if len(spoken.brings) == 1 else "are"
        yield Finding(
            "unmarked-food",
            spoken.span,
            f"{spoken.words[:1].upper()}{spoken.words[1:]} is spoken of outside a mark: it is on no list, and the {groups} in it {be} "
            "in no paper on allergens.",
            (),
            (
                f"If it goes in, mark it: `[{spoken.words}]`, with how much. If it does not, use another word.",
                "Until then nobody with that allergy can be told that the dish is free of it.",
            ),
        )


def allergens_said(links: Links, larder: Larder, dish: Dish) -> AllergenAnswer:
    """What papers say of a dish: what its marks bring, and as what it may contain whatever is only spoken of, there or in a dish that it
    is made with."""
    answer = allergens_of(links, larder, dish)
    below = [within for within, _ in made_of(links, dish, dish.uses)]
    brought = {one for within in below for spoken in spoken_in(links, larder, within) for one in spoken.brings}
    may = (brought | set(answer.may_contain)) - set(answer.contains)
    return replace(answer, may_contain=tuple(one for one in ALLERGENS if one in may)) if brought else answer


def spoken_in(links: Links, larder: Larder, dish: Dish) -> tuple[Spoken, ...]:
    """Each food once, where it is first spoken of."""
    said = list(spoken_foods(dish, larder))
    if not said:
        return ()
    marked = allergens_of(links, larder, dish)
    found: dict[str, Spoken] = {}
    for step, words, item in said:
        brings = tuple(one for one in item.allergens or () if one not in marked.contains)
        span = _place(step.span, words) if brings and item.key not in found else None
        if span is not None:
            found[item.key] = Spoken(words, item, brings, span)
    return tuple(found.values())


def _place(step: Span, words: str) -> Span | None:
    pattern = r"\s+".join(re.escape(word) for word in words.split())
    for found in re.finditer(rf"(?<!\w){pattern}(?!\w)", step.text):
        before = step.text[: found.start()]
        if (
            before.count("[") == before.count("]")
            and before.count("{") == before.count("}")
            and before.count("<") == before.count(">")
        ):
            return Span(step.source, step.start + found.start(), step.start + found.end())
    return None

"""Food that a dish speaks of outside a mark, and that would bring an allergen which none of its marks brings.

`Finish with a little butter`: it is on no list, and nothing has been reckoned of it. Words for what is in hand already (`spoon the butter
over`) bring nothing: a food, or an allergen, that a mark of the dish brings raises nothing.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from recipec.base.finding import Finding
from recipec.base.span import Span
from recipec.larder.ingredient import Ingredient
from recipec.larder.larder import Larder
from recipec.model.dish import Dish, Words
from recipec.plan.allergens import allergens_of
from recipec.plan.links import Links

_LONGEST = 3
_WORD = re.compile(r"[^\W\d_]+(?:['’-][^\W\d_]+)*")
_LIKE = frozenset(
    "like as of from no not without instead than size sized colour coloured until smell smells taste tastes look looks nutty".split()
)
"""A food right after one of these is compared with, or is not there."""

_NOT_AFTER = frozenset("sized size coloured colour knife cloth paper dish bowl pan brush free".split())
"""A food right before one of these names a tool or a size."""


_WORK = frozenset(("char", "roll"))
_WORK_AT_HEAD = frozenset(("cream", "toast", "batter", "skate", "perch", "bread", "flour"))
"""Words for work as well: always, and where a sentence begins with them."""


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


def spoken_in(links: Links, larder: Larder, dish: Dish) -> tuple[Spoken, ...]:
    """Each food once, where it is first spoken of."""
    marked = allergens_of(links, larder, dish)
    found: dict[str, Spoken] = {}
    for step in dish.steps():
        for sentence in step.sentences:
            for piece in sentence.pieces:
                if isinstance(piece, Words):
                    for words, item in _foods(piece.text, larder):
                        brings = tuple(one for one in item.allergens or () if one not in marked.contains)
                        span = _place(step.span, words) if brings and item.key not in found else None
                        if span is not None:
                            found[item.key] = Spoken(words, item, brings, span)
    return tuple(found.values())


def _foods(text: str, larder: Larder) -> Iterator[tuple[str, Ingredient]]:
    words = [match.group() for match in _WORD.finditer(text)]
    place = 0
    while place < len(words):
        for length in range(min(_LONGEST, len(words) - place), 0, -1):
            match = larder.find(" ".join(words[place : place + length]))
            if match is None:
                continue
            before = words[place - 1].lower() if place else ""
            after = words[place + length].lower() if place + length < len(words) else ""
            word = words[place].lower() if length == 1 else ""
            work = word in _WORK or (word in _WORK_AT_HEAD and before in ("", "then", "to"))
            if not work and before not in _LIKE and after not in _NOT_AFTER:
                yield " ".join(words[place : place + length]), match.ingredient
            place += length
            break
        else:
            place += 1


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

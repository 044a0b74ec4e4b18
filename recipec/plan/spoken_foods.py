"""Names of foods in the plain words of steps. Apart from `unmarked`, which judges them, since the check of most dishes ends here."""

from __future__ import annotations

import re
from collections.abc import Iterator

from recipec.larder.ingredient import Ingredient
from recipec.larder.larder import Larder
from recipec.model.dish import Dish, Step, Words

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


def spoken_foods(dish: Dish, larder: Larder) -> Iterator[tuple[Step, str, Ingredient]]:
    """Every food with an allergen that a step speaks of outside a mark, in the cook's words, in order."""
    for step in dish.steps():
        for sentence in step.sentences:
            for piece in sentence.pieces:
                if isinstance(piece, Words):
                    for words, item in _foods(piece.text, larder):
                        if item.allergens:
                            yield step, words, item


def _foods(text: str, larder: Larder) -> Iterator[tuple[str, Ingredient]]:
    words = [match.group() for match in _WORD.finditer(text)]
    place = 0
    while place < len(words):
        for length in range(min(_LONGEST, len(words) - place), 0, -1):
            # Nearly no word of a step ends the name of a food.
            if not larder.ends(words[place + length - 1]):
                continue
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

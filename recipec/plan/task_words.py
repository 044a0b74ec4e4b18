"""What a task says: its sentences scaled to the plates, and a few words for a chart."""

from __future__ import annotations

import re
from collections.abc import Iterable

from recipec.larder.names import normal_name
from recipec.model.dish import Dish, FoodAt, Role, Use
from recipec.plan.action_types import Action
from recipec.plan.links import Links
from recipec.plan.pieces import pieces_of
from recipec.plan.sheet import ReadingPiece, SheetPiece
from recipec.plan.wording import Desk, bare_name

CHART = 28
_SPACES = re.compile(r"[ \t\n]+")
_BEFORE_STOP = re.compile(r"\s+([,.;:!?])")
_LEADING = re.compile(r"^[\s,;:.]*(?:(?:and|then)\s+)*", re.IGNORECASE)
_TRAILING = re.compile(r"(?:[\s,;:]|\b(?:and|then)$)+$", re.IGNORECASE)


def text_of(action: Action, desk: Desk, links: Links) -> str:
    """The cook's own words with amounts for these plates, as a sentence."""
    words = "".join(map(_said, pieces_of(action.pieces, desk, links)))
    words = _BEFORE_STOP.sub(r"\1", _SPACES.sub(" ", words)).strip()
    words = _TRAILING.sub("", _LEADING.sub("", words))
    if not words:
        return ""
    return words[0].upper() + words[1:] + ("" if words[-1] in ".!?" else ".")


def _said(piece: SheetPiece) -> str:
    if isinstance(piece, ReadingPiece) and piece.cue and piece.cue != piece.text:
        return f"{piece.text}, {piece.cue}"
    return piece.text


def what_of(action: Action, dish: Dish) -> str:
    """`brown the lamb`: the verb and what it is done to, at most `CHART` characters."""
    verb = action.verb or "do"
    name = _main(action, dish)
    return chart_words(verb, name)


def chart_words(verb: str, name: str) -> str:
    """A verb and a name, the name's first words dropped where there is no room for all."""
    words = name.split()
    while words:
        text = f"{verb} the {' '.join(words)}"
        if len(text) <= CHART:
            return text
        words.pop(0)
    return verb[:CHART]


def thing_of(action: Action, dish: Dish) -> str:
    """The larder's key of the food bought that it handles first, else the key of that thing; '' when it names none."""
    uses = _uses(action, dish)
    first = next((use for use in uses if use.role is Role.BUY), next(iter(uses), None))
    if first is None:
        return ""
    return first.item or first.thing


def _main(action: Action, dish: Dish) -> str:
    """What the work is on: the food it names first, else what its strand makes, else the dish."""
    first = next(iter(_uses(action, dish)), None)
    if first is not None:
        return bare_name(first)
    strand = dish.strands[action.strand]
    made = next((thing.name for thing in dish.things if thing.key == strand.makes), None)
    heading = re.sub(r"^(?:to|for)\b.*|:$", "", strand.heading, flags=re.IGNORECASE).strip()
    return made or heading.lower() or normal_name(dish.title.split(" with ")[0].split(" and ")[0])


def _uses(action: Action, dish: Dish) -> Iterable[Use]:
    return [dish.uses[piece.use] for piece in action.pieces if isinstance(piece, FoodAt)]

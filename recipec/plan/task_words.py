"""What a task says: its sentences scaled to the plates, and a few words for a chart."""

from __future__ import annotations

import re
from collections.abc import Iterable

from recipec.measure.language import ENGLISH, Language
from recipec.model.dish import Dish, FoodAt, Piece, Role, Step, Use, Words
from recipec.plan.action_types import Action
from recipec.plan.links import Links
from recipec.plan.pieces import pieces_of
from recipec.plan.sheet import ReadingPiece, SheetPiece
from recipec.plan.wording import Desk, bare_name

CHART = 28
_OURS = frozenset({"plate", "see to", "cool", "reheat"})
"""Verbs that stand for what the text does not say itself."""
_SPACES = re.compile(r"[ \t\n]+")
_BEFORE_STOP = re.compile(r"\s+([,.;:!?])")
_LEADING = re.compile(r"^[\s,;:.]*(?:(?:and|then)\s+)*", re.IGNORECASE)
_TRAILING = re.compile(r"(?:[\s,;:]|\b(?:and|then)$)+$", re.IGNORECASE)


def text_of(action: Action, desk: Desk, links: Links, out: frozenset[int] = frozenset(), without: str = "") -> str:
    """The cook's own words with amounts for these plates, as sentences. The foods of the uses `out` are left out of these plates,
    and the words say so where they stood; `without` names what the plates are to be free from."""
    tongue = desk.tongue
    pieces: list[Piece] = []
    for piece in action.pieces:
        if isinstance(piece, FoodAt) and piece.use in out:
            pieces.append(Words(tongue.say("(NOT the %(food)s)", food=bare_name(desk.dish.uses[piece.use]))))
        else:
            pieces.append(piece)
    words = "".join(map(_said, pieces_of(pieces, desk, links)))
    words = _BEFORE_STOP.sub(r"\1", _SPACES.sub(" ", words)).strip()
    words = _TRAILING.sub("", _LEADING.sub("", words)).replace("..", ".")
    if not words:
        return ""
    text = words[0].upper() + words[1:] + ("" if words[-1] in ".!?" else ".")
    # Free-from plates on clean kit: common practice.
    return f"{tongue.say('Without %(foods)s, on clean kit.', foods=without)} {text}" if without else text


def _said(piece: SheetPiece) -> str:
    if not isinstance(piece, ReadingPiece):
        return piece.text
    cue = [piece.cue] if piece.cue and piece.cue != piece.text else []
    return ", ".join((piece.text, *cue, *piece.touches))


def what_of(action: Action, dish: Dish, tongue: Language = ENGLISH) -> str:
    """`brown the lamb`: the verb and what it is done to, at most `CHART` characters."""
    if action.plating:
        return chart_words("plate", dish.title.split(" with ")[0].lower(), tongue)
    return chart_words(action.verb or "see to", _main(action, dish), tongue)


def chart_words(verb: str, name: str, tongue: Language = ENGLISH) -> str:
    """A verb and a name, the name's first words dropped where there is no room for all."""
    words = name.split()
    # `roast the aubergines`, not `roast the roast aubergines`; `rest the duck`, not `rest the rested duck`.
    while len(words) > 1 and (words[0] == verb or words[0].endswith("ed")):
        words.pop(0)
    said = tongue.say(verb, context="verb") if verb in _OURS else verb
    while words:
        text = tongue.say("%(verb)s the %(thing)s", verb=said, thing=" ".join(words), context="chart")
        if len(text) <= CHART and words[0] not in ("and", "with", "of", "the"):
            return text
        words.pop(0)
    return said[:CHART]


def thing_of(action: Action, dish: Dish) -> str:
    """The larder's key of the food bought that it handles first, else the key of that thing; '' when it names none."""
    uses = _uses(action, dish)
    first = next((use for use in uses if use.role is Role.BUY), next(iter(uses), None))
    if first is None:
        return ""
    return first.item or first.thing


def _main(action: Action, dish: Dish) -> str:
    """What the work is on: the food its verb is about, else what its strand makes, else the dish."""
    if action.subject is not None:
        return bare_name(dish.uses[action.subject])
    strand = dish.strands[action.strand]
    made = next((thing.name for thing in dish.things if thing.key == strand.makes), None)
    last = next((block for block in reversed(strand.blocks) if isinstance(block, Step)), None)
    left = next((one.name for one in (last.makes if last is not None else ()) if not one.discarded), None)
    heading = re.sub(r"^(?:to|for)\b.*|:$", "", strand.heading, flags=re.IGNORECASE).strip()
    return made or left or heading.lower() or dish.title.split(" with ")[0].lower()


def _uses(action: Action, dish: Dish) -> Iterable[Use]:
    return [dish.uses[piece.use] for piece in action.pieces if isinstance(piece, FoodAt)]

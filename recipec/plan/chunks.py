"""Sentences cut into actions: a piece of text for every duration, and what stands before and after them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import NamedTuple

from recipec.model.dish import FoodAt, GearAt, Piece, ReadingAt, Sentence, Words
from recipec.model.reading import Duration, Reading, Temperature, TemperatureOf
from recipec.plan.work_figures import verbs

# Where the text of one duration ends and that of the next begins; what belongs to the reading before it (`, to <54 °C core>`) does not.
_JOINT = re.compile(
    r",?\s+(?:and\s+then|then|and)\b\s*|[,;:]\s+(?!(?:to|until|till|or|at|by|with|covered|uncovered)\b)"
)
_WORD_JOINT = re.compile(r",?\s+(?:and\s+then|then|and)\b\s*")
_MEANWHILE = re.compile(r"\s*meanwhile\b", re.IGNORECASE)
_IN_HAND = re.compile(r"\b(?:it|them|they|this|these)\b")
_CLAUSE = re.compile(r"[,;:.!?()–]|\b(?:and|then|or|but)\b", re.IGNORECASE)
_WORD = re.compile(r"[A-Za-zÀ-ÿ][A-Za-zÀ-ÿ'’-]*|[\x00\x01]")
_MARK, _FOOD = "\x00", "\x01"
# Words at the head of a clause that are no verb of the cook's.
_NO_VERB = frozenset(
    """
    a about above after again all allowing almost another as at before below beside between both by down each every everything for from
    further in into it its just last nearly not now off on once only onto or out over past round roughly so some still straight the them
    this those though through to together under until up upon us very well what when where which while whilst with without you your
    skin side flesh seam fat meanwhile covered uncovered hot cold water ice seeds shells bones skins pips
    another more must should may can will would do does done
    """.split()
)
_LET = frozenset({"let", "allow", "make", "have"})
_PRONOUNS = frozenset({"they", "it", "them", "this", "these", "all", "everything"})


@dataclass(frozen=True, slots=True)
class Chunk:
    """Pieces of one action. `reading` is its duration, None for handwork. `meanwhile` when its sentence begins so. `preheat` when it
    only sets an oven."""

    pieces: tuple[Piece, ...]
    reading: Reading | None
    meanwhile: bool
    preheat: bool = False

    @property
    def has_food(self) -> bool:
        """Whether it names any food."""
        return any(isinstance(piece, FoodAt) for piece in self.pieces)


def chunks_of(sentence: Sentence, ovens: frozenset[int]) -> Iterator[Chunk]:
    """The actions of a sentence in order; one chunk of handwork where it gives no duration. `ovens` are numbers of gear marks."""
    pieces = sentence.pieces
    meanwhile = bool(pieces) and isinstance(pieces[0], Words) and _MEANWHILE.match(pieces[0].text) is not None
    places = [place for place, piece in enumerate(pieces) if duration_of(piece) is not None]
    if not places:
        yield Chunk(pieces, None, meanwhile, _is_preheating(pieces, ovens))
        return
    rest: tuple[Piece, ...] = pieces
    gone = 0
    for number, place in enumerate(places):
        at = place - gone
        reading = duration_of(rest[at])
        if number + 1 == len(places):
            yield Chunk(rest, reading, meanwhile)
            return
        head, tail, cut = _cut(rest, at, places[number + 1] - gone)
        yield Chunk(head, reading, meanwhile)
        gone += cut
        rest = tail


def handwork_before(chunk: Chunk) -> tuple[Chunk, Chunk] | None:
    """A chunk with a duration, cut before the clause that its time is of (`Rub the legs with [salt] | and chill for <12 h>`): what hands do
    to food first, and the rest. None where nothing is."""
    at = next((place for place, piece in enumerate(chunk.pieces) if duration_of(piece) is not None), None)
    text = _marked(chunk.pieces[:at])
    clauses = list(_clauses(text))
    last = next((place for place in range(len(clauses) - 1, 0, -1) if _head_verb(text[slice(*clauses[place])])), None)
    if at is None or last is None:
        return None
    free = verbs("hands-free") | verbs("standing")
    done = [verb for clause in clauses[:last] for verb in (_head_verb(text[slice(*clause)]),) if verb]
    if not set(done) - free or _FOOD not in text[: clauses[last - 1][1]]:
        return None
    head, _ = _split(chunk.pieces, clauses[last - 1][1])
    _, tail = _split(chunk.pieces, clauses[last][0])
    return Chunk(head, None, chunk.meanwhile), Chunk(tail, chunk.reading, False)


def _split(pieces: tuple[Piece, ...], at: int) -> tuple[tuple[Piece, ...], tuple[Piece, ...]]:
    """At a place of their `_marked` text."""
    for place, piece in enumerate(pieces):
        if at <= 0:
            return pieces[:place], pieces[place:]
        if isinstance(piece, Words) and at < len(piece.text):
            # The second half of the words stands where the whole stood.
            return (*pieces[:place], Words(piece.text[:at])), (Words(piece.text[at:]), *pieces[place + 1 :])
        at -= len(piece.text) if isinstance(piece, Words) else 1
    return pieces, ()


def duration_of(piece: Piece) -> Reading | None:
    """The reading, when the piece is a duration that is an action."""
    if (
        isinstance(piece, ReadingAt)
        and isinstance(piece.reading.value, Duration)
        and not piece.reading.value.shown_only
    ):
        return piece.reading
    return None


def temperatures(pieces: Iterable[Piece]) -> Iterator[Reading]:
    """The oven's settings in a text."""
    for piece in pieces:
        value = piece.reading.value if isinstance(piece, ReadingAt) else None
        if isinstance(piece, ReadingAt) and isinstance(value, Temperature) and value.of is TemperatureOf.OVEN:
            yield piece.reading


def _cut(pieces: tuple[Piece, ...], at: int, until: int) -> tuple[tuple[Piece, ...], tuple[Piece, ...], int]:
    """Before and after the joint behind `at`, and how many pieces went to the head whole; the joint's own word is dropped."""
    for place in range(at + 1, until):
        piece = pieces[place]
        found = (_WORD_JOINT.search(piece.text) or _JOINT.search(piece.text)) if isinstance(piece, Words) else None
        if found is not None and isinstance(piece, Words):
            head = (*pieces[:place], Words(piece.text[: found.start()]))
            # The second half of the words stands where the whole stood.
            return head, (Words(piece.text[found.end() :]), *pieces[place + 1 :]), place
    return pieces[: at + 1], pieces[at + 1 :], at + 1


def _is_preheating(pieces: tuple[Piece, ...], ovens: frozenset[int]) -> bool:
    if any(isinstance(piece, FoodAt) for piece in pieces) or not any(temperatures(pieces)):
        return False
    return any(isinstance(piece, GearAt) and piece.gear in ovens for piece in pieces) or "oven" in prose(pieces)


def prose(pieces: Iterable[Piece]) -> str:
    """The words in lower case, with a NUL where a mark stands."""
    return _marked(pieces).replace(_FOOD, _MARK)


def _marked(pieces: Iterable[Piece]) -> str:
    return "".join(
        piece.text.lower() if isinstance(piece, Words) else _FOOD if isinstance(piece, FoodAt) else _MARK
        for piece in pieces
    )


class Governing(NamedTuple):
    """What is done: the verb ('' when none is found), and the number of the food mark it is done to (None: what was in hand)."""

    verb: str
    use: int | None


def governing(chunk: Chunk) -> Governing:
    """What is done for the time it gives, or first of all in handwork: the verb at the head of the last clause before the reading that
    has one, and the first food in that clause."""
    pieces = chunk.pieces
    if chunk.reading is not None:
        end = next(place for place, piece in enumerate(pieces) if duration_of(piece) is not None)
        pieces = pieces[:end]
    text = _marked(pieces)
    foods = [piece.use for piece in pieces if isinstance(piece, FoodAt)]
    clauses = list(_clauses(text))
    for start, end in clauses if chunk.reading is None else reversed(clauses):
        verb = _head_verb(text[start:end])
        if not verb:
            continue
        # `Stir in [a], [b] and [c]`: the foods after the verb are its own.
        before = text.count(_FOOD, 0, start)
        head, has, _ = text[start:end].partition(_FOOD)
        return Governing(verb, foods[before] if has and not _IN_HAND.search(head) else None)
    return Governing("", foods[0] if foods else None)


def _clauses(text: str) -> Iterator[tuple[int, int]]:
    start = 0
    for found in _CLAUSE.finditer(text):
        yield start, found.start()
        start = found.end()
    yield start, len(text)


def _head_verb(clause: str) -> str:
    words: list[str] = _WORD.findall(clause)
    while words and (words[0].endswith("ly") or words[0] in ("meanwhile", "now", "finally", "last", "first")):
        words.pop(0)
    if not words or words[0] in (_MARK, _FOOD):
        return ""
    # `let it settle`, `it must rest`, `leave them to stand`
    if words[0] in _LET or words[0] in _PRONOUNS:
        known = verbs("hands-free") | verbs("standing")
        free = next((word for word in words[1:5] if word in known), "")
        return free or (next((word for word in words[1:] if word not in _PRONOUNS), "") if words[0] in _LET else "")
    if words[0] in _NO_VERB or (words[0].endswith("ed") and words[0] not in ("feed", "shred", "embed")):
        return ""
    if words[0].endswith("ing") and words[0] not in ("bring", "wring", "string"):
        return ""
    return words[0]

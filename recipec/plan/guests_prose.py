"""Food that a menu speaks of outside a mark: it may well be served, and nobody has reckoned what is in it.

`[our charred leeks] with warm bread`: the bread is on no list and in no matrix. For whoever is allergic that is as good as unknown.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from recipec.base.finding import Finding, Label
from recipec.base.span import Span
from recipec.larder.ingredient import Ingredient, Presence
from recipec.larder.larder import Larder
from recipec.model.event import Course, Words
from recipec.plan.guests import Guests, asks
from recipec.plan.needs import Food, is_allergy, presence_of

_LONGEST = 4
_PARTS = re.compile(r"[,.;:!?()\"“”]|\s[–—-]\s")


class Spoken(NamedTuple):
    """A food of the larder that is only spoken of, as written."""

    words: str
    item: Ingredient
    span: Span


def prose_findings(guests: Guests, larder: Larder) -> Iterator[Finding]:
    """For every allergic seat and every food that its courses speak of outside a mark, and that it may not eat as far as is known."""
    for course in guests.event.courses:
        reckoned = {one.food.key for served in guests.served if served.order in course.orders for one in served.eaten}
        for spoken in spoken_of(course, larder):
            if spoken.item.key in reckoned:
                continue
            for seat in guests.event.seats:
                for need in seat.needs:
                    food = Food(spoken.words, spoken.item)
                    if is_allergy(need) and presence_of(need, food, larder) is not Presence.NOT_IN_RECIPE:
                        yield Finding(
                            "allergen-unknown",
                            spoken.span,
                            f"Seat {seat.number} {asks(need)}, and the menu speaks of {spoken.words} outside a mark: "
                            "what is in it has not been reckoned.",
                            (Label(need.span, "what this seat asked for"),),
                            (
                                f"If {spoken.words} is served, make it a dish of the book and mark it: `[our {spoken.words}]`, with "
                                "`for seats` where not everyone is to have it. If it is not served, take the word out.",
                            ),
                        )


def spoken_of(course: Course, larder: Larder) -> Iterator[Spoken]:
    """The foods in a course's plain words, the longest name first, each once."""
    seen: set[str] = set()
    for paragraph in course.paragraphs:
        for piece in paragraph:
            if isinstance(piece, Words):
                for part in _PARTS.split(piece.text):
                    for words, item in _foods(part.split(), larder):
                        span = _place(course, words)
                        if item.key not in seen and span is not None:
                            seen.add(item.key)
                            yield Spoken(words, item, span)


def _foods(words: list[str], larder: Larder) -> Iterator[tuple[str, Ingredient]]:
    place = 0
    while place < len(words):
        for length in range(min(_LONGEST, len(words) - place), 0, -1):
            phrase = " ".join(words[place : place + length])
            match = larder.find(phrase)
            if match is not None:
                yield phrase, match.ingredient
                place += length
                break
        else:
            place += 1


def _place(course: Course, words: str) -> Span | None:
    """Where the words stand below the course's heading; a line may end between them."""
    source = course.span.source
    pattern = r"\s+".join(re.escape(word) for word in words.split())
    found = re.compile(rf"(?<!\w){pattern}(?!\w)").search(source.text, course.span.end)
    return None if found is None else Span(source, found.start(), found.end())

"""Alternatives that take one allergen away and bring another: whoever asks for the one may be harmed by the other."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from recipec.base.finding import Finding
from recipec.larder.ingredient import ALLERGENS, Presence
from recipec.larder.larder import Larder
from recipec.model.book import Book
from recipec.model.dish import Dish, Role, Use
from recipec.plan.allergen_groups import groups_of
from recipec.plan.allergens import foods_in, unmarked_in
from recipec.plan.links import Links
from recipec.plan.needs import most

_WORDS = {group.allergen: group.words for group in groups_of("uk").groups}


class Swapped(NamedTuple):
    """What a choice takes away against the first one, and what it brings, by keys of `ALLERGENS`; `may` is what it may bring. `unknown` are
    foods of it of which not all is known."""

    gone: tuple[str, ...]
    brought: tuple[str, ...]
    may: tuple[str, ...]
    unknown: tuple[str, ...]


def swap_findings(book: Book, larder: Larder) -> tuple[Finding, ...]:
    """Of every dish of the book, whoever orders it."""
    links = Links(book)
    return tuple(finding for dish in book.dishes for finding in _of_dish(links, larder, dish))


def _of_dish(links: Links, larder: Larder, dish: Dish) -> Iterator[Finding]:
    for use in dish.uses:
        if use.role not in (Role.BUY, Role.OUR):
            continue
        for choice in use.choices:
            found = swapped(links, larder, dish, use, choice)
            if found.gone and (found.brought or found.may or found.unknown):
                yield _finding(use, choice, found)


def swapped(links: Links, larder: Larder, dish: Dish, use: Use, choice: Use) -> Swapped:
    """What changes when `choice` is taken instead of `use`."""
    before, after = _presences(links, larder, dish, use), _presences(links, larder, dish, choice)
    yes, may = Presence.CONTAINS, Presence.MAY_CONTAIN
    return Swapped(
        tuple(key for key in ALLERGENS if before[key] is yes and after[key] not in (yes, may)),
        tuple(key for key in ALLERGENS if after[key] is yes and before[key] is not yes),
        tuple(key for key in ALLERGENS if after[key] is may and before[key] is Presence.NOT_IN_RECIPE),
        tuple(_unknown(links, larder, dish, choice)),
    )


def _presences(links: Links, larder: Larder, dish: Dish, use: Use) -> dict[str, Presence]:
    items = [None if one.item is None else larder.get(one.item) for one in foods_in(links, dish, (use,))]
    unmarked = use.role is Role.OUR and any(True for _ in unmarked_in(links, dish, (use,)))
    found = {}
    for key in ALLERGENS:
        said = [Presence.UNKNOWN if item is None else item.presence(key) for item in items]
        found[key] = most([*said, Presence.UNKNOWN] if unmarked else said)
    return found


def _unknown(links: Links, larder: Larder, dish: Dish, use: Use) -> Iterator[str]:
    for one in foods_in(links, dish, (use,)):
        item = None if one.item is None else larder.get(one.item)
        if item is None or item.allergens is None or item.open:
            yield one.name


def _finding(use: Use, choice: Use, found: Swapped) -> Finding:
    gone = _and(_WORDS[key] for key in found.gone)
    parts = []
    if found.brought:
        parts.append(f"brings {_and(_WORDS[key] for key in found.brought)}")
    if found.may:
        parts.append(f"may bring {_and(_WORDS[key] for key in found.may)}")
    if found.unknown and not found.brought:
        parts.append(f"what is in it is not all known ({_and(found.unknown)})")
    return Finding(
        "swap-brings-allergen",
        choice.span,
        f"{_capital(_named(choice))} instead of {_named(use)} takes away {gone}, and {', and '.join(parts)}.",
        (),
        (
            "Whoever is given the one for the sake of an allergy must be asked about the other. Add a third choice that brings neither, "
            "or write `accept: swap-brings-allergen, …` with how it is kept apart.",
        ),
    )


def _named(use: Use) -> str:
    return f"our {use.name}" if use.role is Role.OUR else use.name


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _and(names: Iterator[str] | tuple[str, ...]) -> str:
    words = tuple(names)
    return " and ".join(words) if len(words) < 3 else f"{', '.join(words[:-1])} and {words[-1]}"

"""Budget help in words: for the terminal, the page and scripts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from recipec.base.span import Span
from recipec.emit.json_papers import Json, money_data
from recipec.emit.money import money_text
from recipec.emit.plain import rule, title_line, wrap
from recipec.plan.swaps_types import Swap, Swaps

_CAUTION = "A swap changes what is in a dish: its allergens, its time and its taste. The card shows those of what is written first."

_MOST_NAMES = 6


@dataclass(frozen=True, slots=True)
class Part:
    """A table of swaps; the last column is money when `money`."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    money: bool


@dataclass(frozen=True, slots=True)
class SwapsText:
    """Budget help, worded: sentences first, then tables; no table is empty."""

    head: tuple[str, ...]
    parts: tuple[Part, ...]


def swaps_words(swaps: Swaps, language: str = "en") -> SwapsText:
    """All that is to be said."""
    parts = (
        Part(
            "Taken together, the cheapest",
            ("Dish", "Instead of", "Take", "Where"),
            tuple((swap.title, swap.before, swap.after, _place(swap.span)) for swap in swaps.combination),
            False,
        ),
        Part(
            "Each alone",
            ("Dish", "Instead of", "Take", "Saves"),
            tuple(_single(swap, language) for swap in swaps.single),
            True,
        ),
        Part(
            "Cooks differently: check the method first",
            ("Instead of", "Take", "How it differs", "Saves"),
            tuple((one.name, one.other, one.said, money_text(one.saving, language)) for one in swaps.stand_ins),
            True,
        ),
        Part(
            "Without going to a shop",
            ("Shop", "Can't be had elsewhere", "Costs more"),
            tuple(
                (
                    left.shop or "no shop named",
                    ", ".join(left.missing),
                    "" if left.more is None else money_text(left.more, language),
                )
                for left in swaps.shops
            ),
            True,
        ),
        Part(
            "Not looked at",
            ("Dish", "Instead of", "Not", "Why"),
            tuple((one.title, one.before, one.after, one.why) for one in swaps.barred),
            False,
        ),
    )
    return SwapsText(tuple(_head(swaps, language)), tuple(part for part in parts if part.rows))


def _head(swaps: Swaps, language: str) -> Iterator[str]:
    least = "at least " if swaps.at_least else ""
    if swaps.base is None or swaps.best is None:
        yield "Nothing here has a price, so nothing can be compared."
        return
    base = (
        f"The till as written is {least}{money_text(swaps.base, language)}, the packs being the cheapest of all shops."
    )
    if not swaps.combination:
        said = "No allowed swap" if swaps.proved else "No swap that was tried"
        yield f"{base} {said} makes it less."
        return
    best = "the least there is" if swaps.proved else "the best of those tried; there may be better"
    yield (
        f"{base} With the swaps below it is {least}{money_text(swaps.best, language)}, {best}: "
        f"{money_text(swaps.saving, language)} saved."
    )
    yield _CAUTION


def _single(swap: Swap, language: str) -> tuple[str, ...]:
    return (f"{swap.title}, {_place(swap.span)}", swap.before, swap.after, money_text(swap.saving, language))


def _place(span: Span) -> str:
    return f"{span.source.name}:{span.position.line}"


def swaps_lines(swaps: Swaps, language: str = "en") -> Iterator[str]:
    """For a terminal of 80 columns."""
    said = swaps_words(swaps, language)
    yield from ("", "WHAT ELSE WOULD DO", rule())
    for sentence in said.head:
        yield from wrap(sentence)
    for part in said.parts:
        yield from ("", f"{part.title}:")
        for row in part.rows:
            yield from _row(part, row)


def _row(part: Part, row: tuple[str, ...]) -> Iterator[str]:
    first, *rest = row
    last = rest.pop() if part.money else ""
    match part.heads:
        case ("Dish", *_):
            yield from title_line(f"{rest[1]} instead of {rest[0]}", last, "  · ")
            yield from wrap(": ".join((first, *rest[2:])), "    ")
        case ("Shop", *_):
            yield from title_line(first, f"+ {last}" if last else "can't be left out", "  · ")
            if rest[0]:
                yield from wrap(f"only there: {_few(rest[0].split(', '))}", "    ")
        case _:
            yield from title_line(f"{rest[0]} instead of {first}", last, "  · ")
            if rest[1]:
                yield from wrap(rest[1], "    ")


def _few(names: list[str]) -> str:
    more = len(names) - _MOST_NAMES
    return ", ".join(names) if more < 2 else f"{', '.join(names[:_MOST_NAMES])} and {more} others"


def swaps_data(swaps: Swaps) -> tuple[list[Json], dict[str, Json]]:
    """The single swaps with what each saves alone, those of the best combination marked; and all else."""
    best = {(swap.dish, swap.use, swap.place) for swap in swaps.combination}
    listed = {(swap.dish, swap.use, swap.place): swap for swap in (*swaps.single, *swaps.combination)}
    rows: list[Json] = [
        {
            "dish": swap.dish,
            "file": swap.span.source.name,
            "line": swap.span.position.line,
            "from": swap.before,
            "to": swap.after,
            "saving": money_data(swap.saving),
            "in_cheapest": key in best,
        }
        for key, swap in listed.items()
    ]
    rest: dict[str, Json] = {
        "base": money_data(swaps.base),
        "till": money_data(swaps.best),
        "saving": money_data(swaps.saving),
        "proved": swaps.proved,
        "at_least": swaps.at_least,
        "shops": [
            {"shop": left.shop, "more": money_data(left.more), "missing": list(left.missing)} for left in swaps.shops
        ],
        "stand_ins": [
            {"item": one.name, "instead": one.other, "saving": money_data(one.saving), "remark": one.said}
            for one in swaps.stand_ins
        ],
        "barred": [
            {
                "dish": one.dish,
                "file": one.span.source.name,
                "line": one.span.position.line,
                "from": one.before,
                "to": one.after,
                "why": one.why,
                "diet": one.diet,
            }
            for one in swaps.barred
        ],
    }
    return rows, rest

"""Budget help in words: for the terminal, the page and scripts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum

from recipec.base.span import Span
from recipec.emit.json_papers import Json, money_data
from recipec.emit.money import least_text, money_text
from recipec.emit.plain import rule, title_line, wrap
from recipec.measure.language import Language, language_of
from recipec.plan.swaps_types import Swap, Swaps

_MOST_NAMES = 6


class Sort(Enum):
    """Which table it is."""

    BY_DISH = "by dish"
    BY_SHOP = "by shop"
    BY_FOOD = "by food"


@dataclass(frozen=True, slots=True)
class Part:
    """A table of swaps; the last column is money when `money`."""

    sort: Sort
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
    tongue = language_of(language)
    say = tongue.say
    dish, instead, take, saves = say("Dish"), say("Instead of"), say("Take"), say("Saves")
    parts = (
        Part(
            Sort.BY_DISH,
            say("Taken together, the cheapest"),
            (dish, instead, take, say("Where")),
            tuple((swap.title, swap.before, swap.after, _place(swap.span)) for swap in swaps.combination),
            False,
        ),
        Part(
            Sort.BY_DISH,
            say("Each alone"),
            (dish, instead, take, saves),
            tuple(_single(swap, language) for swap in swaps.single),
            True,
        ),
        Part(
            Sort.BY_FOOD,
            say("Cooks differently: check the method first"),
            (instead, take, say("How it differs"), saves),
            tuple((one.name, one.other, one.said, money_text(one.saving, language)) for one in swaps.stand_ins),
            True,
        ),
        Part(
            Sort.BY_SHOP,
            say("Without going to a shop"),
            (say("Shop"), say("Can't be had elsewhere"), say("Costs more")),
            tuple(
                (
                    left.shop or say("no shop named"),
                    ", ".join(left.missing),
                    "" if left.more is None else money_text(left.more, language),
                )
                for left in swaps.shops
            ),
            True,
        ),
        Part(
            Sort.BY_DISH,
            say("Not looked at"),
            (dish, instead, say("Not"), say("Why")),
            tuple((one.title, one.before, one.after, one.why) for one in swaps.barred),
            False,
        ),
    )
    return SwapsText(tuple(_head(swaps, tongue)), tuple(part for part in parts if part.rows))


def _head(swaps: Swaps, tongue: Language) -> Iterator[str]:
    say = tongue.say
    if swaps.base is None or swaps.best is None:
        yield say("Nothing here has a price, so nothing can be compared.")
        return
    base, best = (
        least_text(money_text(money, tongue.code), swaps.at_least, tongue) for money in (swaps.base, swaps.best)
    )
    written = say("The till as written is %(sum)s, the packs being the cheapest of all shops.", sum=base)
    if not swaps.combination:
        none = say("No allowed swap makes it less.") if swaps.proved else say("No swap that was tried makes it less.")
        yield f"{written} {none}"
        return
    saved = money_text(swaps.saving, tongue.code)
    if swaps.proved:
        below = say("With the swaps below it is %(sum)s, the least there is: %(saved)s saved.", sum=best, saved=saved)
    else:
        below = say(
            "With the swaps below it is %(sum)s, the best of those tried; there may be better: %(saved)s saved.",
            sum=best,
            saved=saved,
        )
    yield f"{written} {below}"
    yield say(
        "A swap changes what is in a dish: its allergens, its time and its taste. "
        "The card shows those of what is written first."
    )


def _single(swap: Swap, language: str) -> tuple[str, ...]:
    return (f"{swap.title}, {_place(swap.span)}", swap.before, swap.after, money_text(swap.saving, language))


def _place(span: Span) -> str:
    return f"{span.source.name}:{span.position.line}"


def swaps_lines(swaps: Swaps, language: str = "en") -> Iterator[str]:
    """For a terminal of 80 columns."""
    said, tongue = swaps_words(swaps, language), language_of(language)
    yield from ("", tongue.say("What else would do").upper(), rule())
    for sentence in said.head:
        yield from wrap(sentence)
    for part in said.parts:
        yield from ("", f"{part.title}:")
        for row in part.rows:
            yield from _row(part, row, tongue)


def _row(part: Part, row: tuple[str, ...], tongue: Language) -> Iterator[str]:
    first, *rest = row
    last = rest.pop() if part.money else ""
    match part.sort:
        case Sort.BY_DISH:
            swap = tongue.say("%(other)s instead of %(food)s", other=rest[1], food=rest[0])
            yield from title_line(swap, last, "  · ")
            yield from wrap(": ".join((first, *rest[2:])), "    ")
        case Sort.BY_SHOP:
            yield from title_line(first, f"+ {last}" if last else tongue.say("can't be left out"), "  · ")
            if rest[0]:
                names = _few(rest[0].split(", "), tongue)
                yield from wrap(tongue.say("only there: %(things)s", things=names), "    ")
        case Sort.BY_FOOD:
            swap = tongue.say("%(other)s instead of %(food)s", other=rest[0], food=first)
            yield from title_line(swap, last, "  · ")
            if rest[1]:
                yield from wrap(rest[1], "    ")


def _few(names: list[str], tongue: Language) -> str:
    more = len(names) - _MOST_NAMES
    if more < 2:
        return ", ".join(names)
    return tongue.say("%(names)s and %(number)s others", names=", ".join(names[:_MOST_NAMES]), number=more)


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

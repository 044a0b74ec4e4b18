"""Guests who are expecting, or under five: nothing raw and nothing under its core may be served to them, whatever the menu says.

An event does not say where they sit, so every dish that it serves is judged for them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache
from types import MappingProxyType
from typing import NamedTuple

from recipec.base.finding import Finding, Label
from recipec.larder.larder import Larder
from recipec.larder.names import normal_name
from recipec.model.book import Book
from recipec.model.event import Event, Order
from recipec.plan.demand import Ask, Run, demand
from recipec.plan.figures import rows
from recipec.plan.rules import LOCAL, Rules
from recipec.plan.safety_cores import Done, Judged, judge, kind_words, wanted_of, wanted_words
from recipec.plan.safety_foods import Kind
from recipec.plan.safety_trace import Food, Key, Trace, Tracer


def fragile_findings(book: Book, larder: Larder, tracer: Tracer, event: Event, rules: Rules) -> tuple[Finding, ...]:
    """Of one event; none where it has no such guest. They can't be accepted."""
    if not event.expecting and not event.under_five:
        return ()
    found: dict[tuple[int, str], Finding] = {}
    for course in event.courses:
        for order in course.orders:
            for finding in _order(book, larder, tracer, event, order, rules):
                found.setdefault((finding.span.start, finding.message), finding)
    return tuple(found.values())


def _order(book: Book, larder: Larder, tracer: Tracer, event: Event, order: Order, rules: Rules) -> Iterator[Finding]:
    dish = None if order.dish is None else book.dish(order.dish)
    if dish is None:
        return
    runs = demand(book, larder, (Ask(dish.key, None, None, order.without),)).runs
    bought = _bought(runs)
    trace = tracer.trace(dish)
    for key in sorted(trace.foods):
        # What the version leaves out is not on the plate; what nobody lists is judged all the same.
        if key not in trace.served or (order.without and key not in bought):
            continue
        judged = judge(trace.foods[key], rules, fragile=True)
        if judged.done is not Done.ENOUGH:
            yield _said(event, order, trace, judged, rules)
        unfit = _unfit(trace.foods[key], event)
        if unfit is not None:
            yield _not_for(event, order, trace, trace.foods[key], unfit)


class _Unfit(NamedTuple):
    """A row of `data/fragile_foods.tsv`."""

    name: str
    whom: str
    until: str
    why: str
    source: str


@cache
def _unfit_foods() -> Mapping[str, _Unfit]:
    return MappingProxyType({row[0]: _Unfit(*row) for row in rows("fragile_foods.tsv")})


def _unfit(food: Food, event: Event) -> _Unfit | None:
    """Why such guests are not to have it as it is served, by the last words of its names; an unpasteurised thing by that word."""
    table = _unfit_foods()
    written = " ".join(normal_name(" ".join((*food.use.before, food.use.name, *food.use.after))).split())
    names = [normal_name(food.use.name), written, *(() if food.item is None else (food.item.key,))]
    endings = (" ".join(name.split()[start:]) for name in names for start in range(len(name.split())))
    found = next((table[ending] for ending in endings if ending in table), None)
    if found is None and {"unpasteurised", "unpasteurized"} & set(written.split()):
        found = table["unpasteurised milk"]
    if found is None or (found.until == "cooked" and food.heated):
        return None
    return None if found.whom == "expecting" and not event.expecting else found


def _not_for(event: Event, order: Order, trace: Trace, food: Food, unfit: _Unfit) -> Finding:
    name = food.use.name
    cure = (
        "Cook it right through, until it steams, and write that step; or leave" if unfit.until == "cooked" else "Leave"
    )
    return Finding(
        "not-for-fragile",
        order.span,
        f"Of the guests {_guests(event)}, and {trace.dish.title} has {name}: {unfit.why}.",
        (Label(food.use.span, "in this dish"),),
        (
            f"{cure} it out (`without {name}`), or serve everyone another dish. No reason can be accepted for this.",
            f"{unfit.source[:1].upper()}{unfit.source[1:]}. {LOCAL}",
        ),
    )


def _guests(event: Event) -> str:
    return ", ".join(
        f"{number} {'is' if number == 1 else 'are'} {words}"
        for number, words in ((event.expecting, "expecting"), (event.under_five, "under five"))
        if number
    )


def _bought(runs: tuple[Run, ...]) -> frozenset[Key]:
    return frozenset(Key(run.dish.key, use.number) for run in runs for use in run.bought)


def _said(event: Event, order: Order, trace: Trace, judged: Judged, rules: Rules) -> Finding:
    food = judged.food
    guests = _guests(event)
    wanted = wanted_of(Kind.MINCED if food.kind in (Kind.SMOKED, Kind.CURED) else food.kind, rules, fragile=True)
    name = food.use.name
    state = {
        Done.RAW: f"serves the {name} raw",
        Done.FROZEN: f"serves the {name} raw; freezing it is against parasites alone",
        Done.NOT_COOKED: f"serves the {name}, which is smoked or salted and was never cooked",
        Done.UNDER: f"serves the {name} under {wanted_words(wanted)} inside",
        Done.UNREAD: f"does not say how hot the {name} gets inside",
    }[judged.done]
    kind = "" if judged.done is Done.NOT_COOKED or food.kind is Kind.EGG else f" ({kind_words(food.kind)})"
    return Finding(
        "raw-for-fragile",
        order.span,
        f"Of the guests {guests}, and {trace.dish.title} {state}{kind}.",
        (Label(food.use.span if judged.read is None else judged.read.span, "in this dish"),),
        (
            f"Cook it to {wanted_words(wanted)} and say so in the dish, leave it out (`without {name}`), or serve everyone another dish. "
            "No reason can be accepted for this.",
            LOCAL,
        ),
    )

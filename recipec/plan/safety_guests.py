"""Guests who are expecting, or under five: nothing raw and nothing under its core may be served to them, whatever the menu says.

An event does not say where they sit, so every dish that it serves is judged for them.
"""

from __future__ import annotations

from collections.abc import Iterator

from recipec.base.finding import Finding, Label
from recipec.larder.larder import Larder
from recipec.model.book import Book
from recipec.model.event import Event, Order
from recipec.plan.demand import Ask, Run, demand
from recipec.plan.rules import LOCAL, Rules
from recipec.plan.safety_cores import Done, Judged, judge, kind_words, wanted_of, wanted_words
from recipec.plan.safety_foods import Kind
from recipec.plan.safety_trace import Key, Trace, Tracer


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


def _bought(runs: tuple[Run, ...]) -> frozenset[Key]:
    return frozenset(Key(run.dish.key, use.number) for run in runs for use in run.bought)


def _said(event: Event, order: Order, trace: Trace, judged: Judged, rules: Rules) -> Finding:
    food = judged.food
    guests = ", ".join(
        f"{number} {'is' if number == 1 else 'are'} {words}"
        for number, words in ((event.expecting, "expecting"), (event.under_five, "under five"))
        if number
    )
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

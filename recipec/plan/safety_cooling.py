"""How what was hot gets cold, and hot again.

The times are the text's own: `cooled in`, what the cooling steps say, `back in`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from recipec.base.finding import Finding, Label
from recipec.measure.show_reading import show_duration
from recipec.model.reading import State
from recipec.plan.rules import LOCAL, Rules, degrees, edition, limit, limits, met, sources
from recipec.plan.safety_keeping import (
    any_spoils,
    last_hot,
    time_of,
)
from recipec.plan.safety_trace import Left, Trace, cools, reads_in, words_of

_SIMMERED_S = 300
_BOILS = re.compile(r"\b(?:simmer|boil)\w*\b")


def cooling_of(trace: Trace, left: Left, rules: Rules) -> Iterator[Finding]:
    """`cooling-unstated` and `cooling-too-slow`: what was hot and is then held cold."""
    hold = left.made.hold
    hot = last_hot(trace, left)
    if hold is None or hold.state not in (State.CHILLED, State.FROZEN) or hot is None:
        return
    whole, first = limit(rules, "cool whole"), limit(rules, "cool first")
    if whole is None or whole.seconds is None:
        return
    name = left.made.name
    steps = [
        m
        for m in trace.moments
        if hot.action.number <= m.action.number <= left.action.number and m.present & left.foods
    ]
    cooled = [m for m in steps if cools(m.action, trace.dish)]
    taken = hold.cooled_in
    if taken is None and cooled:
        # A stated time in the open; in ice or in a fridge the time given is for setting or keeping, and nobody knows when it was cold.
        open_air = [m for m in cooled if m.action.place is None and m.action.verb == "cool" and m is not hot]
        taken = sum((time_of(m) for m in open_air), Fraction(0)) or None
        if taken is None:
            return
    if taken is None:
        yield Finding(
            "cooling-unstated",
            left.made.span,
            f"Nothing says how to cool the {name}: off the heat, and then held {hold.state.value}.",
            (Label(hot.action.span, "hot here"),),
            (
                f"Write how long that takes, at the end of the last step: -> {name}, holds {show_duration(hold.low)} {hold.state.value}, "
                "cooled in 60 min",
                f"What is asked for is {_limits_words(rules)}. Shallow trays, ice and stirring do it; rice, stocks and deep pans "
                "cool slowest.",
                LOCAL,
            ),
        )
    elif taken > whole.seconds:
        yield Finding(
            "cooling-too-slow",
            left.made.span,
            f"Cooling the {name} takes {show_duration(taken)}; {edition(rules).name} asks for {_limits_words(rules)}.",
            (Label(hot.action.span, "hot here"),),
            (
                "Cool it faster, in shallow trays or in ice, stirred, and write the time that takes: cooled in 60 min.",
                f"{sources((whole, first))} {LOCAL}",
            ),
        )
    elif first is not None and first.seconds is not None and taken > first.seconds:
        yield Finding(
            "cooling-unstated",
            left.made.span,
            f"Cooling the {name} takes {show_duration(taken)}, and nothing says that {degrees(first)} is reached in the first "
            f"{show_duration(first.seconds)}.",
            (),
            (
                f"Cool it in {show_duration(first.seconds)} or less: cooled in {show_duration(first.seconds)}. Or measure both stages, and "
                "say so in a line `accept: cooling-unstated, …`.",
                f"{sources((whole, first))} {LOCAL}",
            ),
        )


def _limits_words(rules: Rules) -> str:
    parts: list[str] = []
    for name in ("cool first", "cool whole"):
        row = limit(rules, name)
        if row is not None and row.seconds is not None:
            parts.append(
                f"{degrees(row)} within {show_duration(row.seconds)}{' in all' if name == 'cool whole' and parts else ''}"
            )
    whole = limit(rules, "cool whole")
    return " and ".join(parts) + (f" ({whole.note})" if whole is not None and whole.note and len(parts) == 1 else "")


def reheating_of(trace: Trace, left: Left, rules: Rules) -> Iterator[Finding]:
    """`reheat-unstated`: what was cooked, held cold and is heated again."""
    hold = left.made.hold
    if hold is None or hold.state not in (State.CHILLED, State.FROZEN) or hold.back_in is not None:
        return
    if last_hot(trace, left) is None or not any_spoils(trace, left):
        return
    later = [
        m
        for m in trace.moments
        if m.action.number > left.action.number and m.cooks and 2 * len(m.acted & left.foods) >= len(left.foods)
    ]
    if not later:
        return
    wanted = limits(rules, "core", "leftover")
    reads = [read.core for m in later for _, read in reads_in(m.action)]
    simmered = sum((time_of(m) for m in later if _BOILS.search(words_of(m.action, trace.dish))), Fraction(0))
    if met(wanted, reads) or simmered >= _SIMMERED_S:
        return
    row = limit(rules, "reheat")
    assert row is not None
    yield Finding(
        "reheat-unstated",
        left.made.span,
        f"Nothing says how hot to get the {left.made.name} again, cooked and then held {hold.state.value}.",
        (Label(later[0].action.span, "heated again here"),),
        (
            f"Write what it reaches: … to <{degrees(row)} core>; or how long it takes: back in 15 min in {{saucepan}}.",
            f"{degrees(row)}, {row.note} ({row.section}, {row.mark_words}). {LOCAL}",
        ),
    )

"""What is kept without air: under oil, in vacuum, sealed in a bag. Botulism grows there and can't be seen, smelled or tasted."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from recipec.base.finding import Finding
from recipec.measure.show_reading import show_duration
from recipec.model.reading import State
from recipec.plan.rules import LOCAL, Rules
from recipec.plan.safety_foods import is_oil
from recipec.plan.safety_keeping import (
    grams_of,
    kept,
)
from recipec.plan.safety_trace import Left, Trace, words_of

_DAY_S = 86_400
_OIL_PART = Fraction(1, 5)
"""Common practice: so much oil lies over what is in it and keeps the air away."""

_AIRLESS = re.compile(r"\b(?:vacuum|vacuum-pack\w*|vac-pac\w*|confit)\b")
_SEALS = re.compile(r"\b(?:seal|sealed)\b")


def airless_of(trace: Trace, rules: Rules) -> Iterator[Finding]:
    """`airless-hold`, and `danger-zone` where it is not cold: each hold of a day or longer."""
    told: set[int] = set()
    for left in (*kept(trace), *trace.keeps):
        hold = left.made.hold
        if hold is None or hold.high < _DAY_S or left.action.number in told:
            continue
        why = _why_airless(trace, left)
        if why is None:
            continue
        told.add(left.action.number)
        cold = hold.state in (State.CHILLED, State.FROZEN)
        hints = (
            "Botulism grows without air and can't be seen, smelled or tasted: keep it in the fridge for days, not weeks, or freeze it, "
            "mark the day on it, and throw away what is left.",
            LOCAL,
        )
        if cold:
            yield Finding(
                "airless-hold",
                left.made.span,
                f"{show_duration(hold.high)} {hold.state.value} without air ({why}) for the {left.made.name}: never shelf-stable.",
                (),
                (*hints, "When it is dealt with, say how at the top: accept: airless-hold, and your reason."),
            )
        else:
            yield Finding(
                "danger-zone",
                left.made.span,
                f"{show_duration(hold.high)} without air and not cold ({why}) for the {left.made.name}.",
                (),
                (f"Hold it chilled: -> {left.made.name}, holds 3 d chilled", *hints),
            )


def _why_airless(trace: Trace, left: Left) -> str | None:
    foods = [trace.foods[key] for key in sorted(left.foods)]
    weights = [(food, grams_of(food)) for food in foods]
    oil = sum((weight for food, weight in weights if weight is not None and is_oil(food.item)), Fraction(0))
    total = sum((weight for _, weight in weights if weight is not None), Fraction(0))
    under = [
        food
        for food in foods
        if food.item is not None and food.item.department == "produce" and food.use.part != "juice"
    ]
    if under and oil and oil >= _OIL_PART * total:
        return f"{under[0].use.name} under oil"
    own = [m for m in trace.moments if m.action.number <= left.action.number and m.acted & left.foods]
    for m in own:
        words = words_of(m.action, trace.dish)
        found = _AIRLESS.search(words)
        if found is not None:
            return found.group()
        if _SEALS.search(words) and any(
            trace.dish.gear[mark].key.endswith("bath") for other in own for mark in other.action.marks
        ):
            return "sealed in a bag"
    return None

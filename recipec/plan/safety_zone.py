"""How long a food lies neither cold nor hot, all its steps and holds together; and what is held warm, which no rule set calls hot.

The times are the text's own: what a step says it takes and what a hold allows. A plan keeps every hold, so no plan lets food lie longer in
the open than is reckoned here, but for the minutes between one task and the next.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from recipec.base.finding import Finding, Label
from recipec.base.span import Span
from recipec.measure.show_reading import show_duration
from recipec.model.reading import State
from recipec.plan.rules import LOCAL, Rules, degrees, edition, limit, sources
from recipec.plan.safety_keeping import (
    any_spoils,
    dry_bake,
    keeps_itself,
    kept,
    on_ice,
    spoils_raw,
    time_of,
)
from recipec.plan.safety_trace import Food, Key, Trace

_COOLING = "cooling"
_CURE = "Hold it chilled or hot, or for less: `holds 2 d chilled`, `holds 40 min hot in {bain-marie}`."


@dataclass(frozen=True, slots=True)
class _Spell:
    seconds: Fraction
    span: Span
    text: str


def zone_of(trace: Trace, rules: Rules) -> Iterator[Finding]:
    """`danger-zone`: the food that lies longest in the open, when that is too long; else what is held warm for too long."""
    alone, whole = limit(rules, "time alone"), limit(rules, "cool whole")
    hot, cold = limit(rules, "hold hot"), limit(rules, "hold cold")
    if alone is None or whole is None or hot is None or cold is None:
        return
    # Cooling has a rule of its own: as long as it keeps to that, only the rest counts against the four hours.
    least = alone.seconds or 0
    most = max(least, whole.seconds or 0)
    worst: tuple[Fraction, Food, list[_Spell]] | None = None
    for key in sorted(trace.foods):
        food = trace.foods[key]
        spells = list(_spells(trace, key)) if spoils_raw(food) or (food.plant and key in trace.hot_since) else []
        total = sum((spell.seconds for spell in spells), Fraction(0))
        rest = sum((spell.seconds for spell in spells if spell.text != _COOLING), Fraction(0))
        if (rest > least or total > most) and (worst is None or total > worst[0]):
            worst = (total, trace.foods[key], spells)
    if worst is None:
        yield from _warm(trace, rules)
        return
    total, food, spells = worst
    main = max(spells, key=lambda spell: spell.seconds)
    if main.text == _COOLING and main.seconds > (whole.seconds or 0):
        return
    yield Finding(
        "danger-zone",
        main.span,
        f"The {food.use.name} may lie {show_duration(total)} between {degrees(cold)} and {degrees(hot)}, all steps and holds together: "
        f"{edition(rules).name} allows {show_duration(least)}.",
        tuple(
            Label(spell.span, f"{show_duration(spell.seconds)} {spell.text}") for spell in spells if spell is not main
        ),
        (_CURE, f"{sources((alone, hot, cold))} {LOCAL}"),
    )


def _warm(trace: Trace, rules: Rules) -> Iterator[Finding]:
    """Food held warm, which is under what a rule set calls hot."""
    row, hot = limit(rules, "time warm"), limit(rules, "hold hot")
    if row is None or row.seconds is None or hot is None:
        return
    for left in kept(trace):
        hold = left.made.hold
        if hold is None or hold.state is not State.WARM or hold.low <= row.seconds:
            continue
        if any_spoils(trace, left):
            yield Finding(
                "danger-zone",
                left.made.span,
                f"{show_duration(hold.low)} warm is too long for the {left.made.name}: {edition(rules).name} allows "
                f"{show_duration(row.seconds)} under {degrees(hot)}, {row.note}.",
                (),
                (_CURE, f"{sources((row, hot))} {LOCAL}"),
            )


def _spells(trace: Trace, key: Key) -> Iterator[_Spell]:
    """The times in which a food is neither cold nor hot for certain."""
    for m in trace.moments:
        action = m.action
        open_air = action.standing and action.place is None and action.heat is None and not on_ice(m, trace)
        asks = key in m.present and trace.spoils(key, action.number) and not keeps_itself(trace, key, m.present, "")
        if open_air and asks and (seconds := time_of(m)):
            yield _Spell(seconds, action.span, "left in the open")
    done: set[int] = set()
    # Of several ways to keep it, the first written.
    for left in (*trace.left, *trace.keeps[:1]):
        hold = left.made.hold
        if hold is None or left.made.discarded or key not in left.foods or left.action.number in done:
            continue
        done.add(left.action.number)
        if not trace.spoils(key, left.action.number) or keeps_itself(trace, key, left.foods, left.made.name):
            continue
        if hold.state in (State.ROOM, State.WARM) and not dry_bake(trace, left):
            yield _Spell(
                hold.low, left.made.span, "held warm" if hold.state is State.WARM else "held at room temperature"
            )
        if hold.cooled_in is not None:
            yield _Spell(hold.cooled_in, left.made.span, _COOLING)
        if hold.back_in is not None:
            yield _Spell(hold.back_in, left.made.span, "getting hot again")

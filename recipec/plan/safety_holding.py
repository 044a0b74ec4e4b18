"""How what is made gets cold, how long it lies neither cold nor hot, how it gets hot again, and what is kept without air.

The times are the text's own: what a step says it takes and what a hold allows, added up. A plan keeps every hold, so no plan lets food
lie longer in the open than is reckoned here, but for the minutes between one task and the next.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from recipec.base.finding import Finding, Label
from recipec.base.span import Span
from recipec.larder.names import normal_name
from recipec.measure.show_reading import show_duration, show_temperature
from recipec.model.reading import State
from recipec.plan.joining import grams
from recipec.plan.rules import LOCAL, Limit, Rules, edition, limit, limits, met
from recipec.plan.safety_foods import is_oil, is_rice, spoils
from recipec.plan.safety_plants import DRY_WORDS, SOUR, SWEET
from recipec.plan.safety_trace import Food, Key, Left, Moment, Trace, cools, reads_in, seconds_of, words_of
from recipec.plan.scale import measured

_DAY_S = 86_400
_DRY_PART = Fraction(1, 3)
"""Common practice: what is baked with a third or more of flour, sugar, nuts or chocolate, and no meat or fish, keeps in a tin."""

_OIL_PART = Fraction(1, 5)
"""Common practice: so much oil lies over what is in it and keeps the air away."""

_SOUR_PART = Fraction(1, 10)
_SWEET_PART = Fraction(1, 3)
"""Common practice: pickles are a tenth vinegar and more, jams a third sugar and more."""

_COOLING = "cooling"
_CURE = "Hold it chilled or hot, or for less: `holds 2 d chilled`, `holds 40 min hot in {bain-marie}`."
_SIMMERED_S = 300
_DRY = frozenset(
    "flour sugar chocolate almond hazelnut walnut pistachio cornmeal oat oats semolina polenta crumb breadcrumb biscuit honey".split()
)
_BOILS = re.compile(r"\b(?:simmer|boil)\w*\b")
_AIRLESS = re.compile(r"\b(?:vacuum|vacuum-pack\w*|vac-pac\w*|confit)\b")
_SEALS = re.compile(r"\b(?:seal|sealed)\b")


def holding_findings(trace: Trace, rules: Rules) -> tuple[Finding, ...]:
    """Of one dish, in no order; each once."""
    found = [
        *(finding for left in (*_kept(trace), *_kept_whole(trace)) for finding in _cooling(trace, left, rules)),
        *(finding for left in _kept(trace) for finding in _reheating(trace, left, rules)),
        *(finding for left in (*_kept(trace), *trace.keeps) for finding in _shelf(trace, left, rules)),
        *_zone(trace, rules),
        *_airless(trace, rules),
    ]
    return tuple(dict.fromkeys(found))


def _kept(trace: Trace) -> Iterator[Left]:
    for left in trace.left:
        if left.made.hold is not None and not left.made.discarded:
            yield left


def _kept_whole(trace: Trace) -> Iterator[Left]:
    """The dish as it keeps cold by its own fact, where no arrow says it; not dry bakes, nor what does not spoil. Where
    an arrow says how a part of it is held cold, it is that part which keeps."""
    if any(left.made.hold is not None and left.made.hold.state in (State.CHILLED, State.FROZEN) for left in trace.left):
        return
    for left in trace.keeps:
        hold = left.made.hold
        if hold is None or hold.state not in (State.CHILLED, State.FROZEN):
            continue
        if _any_spoils(trace, left) and not dry_bake(trace, left):
            yield left
            return


# ------------------------------------------------------------ cooling


def _cooling(trace: Trace, left: Left, rules: Rules) -> Iterator[Finding]:
    hold = left.made.hold
    hot = _last_hot(trace, left)
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
        taken = sum((_seconds(m) for m in open_air), Fraction(0)) or None
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
                f"{_sources((whole, first))} {LOCAL}",
            ),
        )
    elif first is not None and first.seconds is not None and taken > first.seconds:
        yield Finding(
            "cooling-unstated",
            left.made.span,
            f"Cooling the {name} takes {show_duration(taken)}, and nothing says that {_degrees(first)} is reached in the first "
            f"{show_duration(first.seconds)}.",
            (),
            (
                f"Cool it in {show_duration(first.seconds)} or less: cooled in {show_duration(first.seconds)}. Or measure both stages, and "
                "say so in a line `accept: cooling-unstated, …`.",
                f"{_sources((whole, first))} {LOCAL}",
            ),
        )


def _last_hot(trace: Trace, left: Left) -> Moment | None:
    """The last moment by then in which most of it was over heat; None when it never was."""
    own = [m for m in trace.moments if m.action.number <= left.action.number and m.cooks]
    hot = [m for m in own if 2 * len(m.acted & left.foods) >= max(1, len(left.foods)) and m.acted & left.foods]
    return hot[-1] if hot else None


def _limits_words(rules: Rules) -> str:
    parts: list[str] = []
    for name in ("cool first", "cool whole"):
        row = limit(rules, name)
        if row is not None and row.seconds is not None:
            parts.append(
                f"{_degrees(row)} within {show_duration(row.seconds)}{' in all' if name == 'cool whole' and parts else ''}"
            )
    whole = limit(rules, "cool whole")
    return " and ".join(parts) + (f" ({whole.note})" if whole is not None and whole.note and len(parts) == 1 else "")


# ------------------------------------------------------------ heating again, and keeping


def _reheating(trace: Trace, left: Left, rules: Rules) -> Iterator[Finding]:
    hold = left.made.hold
    if hold is None or hold.state not in (State.CHILLED, State.FROZEN) or hold.back_in is not None:
        return
    if _last_hot(trace, left) is None or not _any_spoils(trace, left):
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
    simmered = sum((_seconds(m) for m in later if _BOILS.search(words_of(m.action, trace.dish))), Fraction(0))
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
            f"Write what it reaches: … to <{_degrees(row)} core>; or how long it takes: back in 15 min in {{saucepan}}.",
            f"{_degrees(row)}, {row.note} ({row.section}, {row.mark_words}). {LOCAL}",
        ),
    )


def _shelf(trace: Trace, left: Left, rules: Rules) -> Iterator[Finding]:
    hold = left.made.hold
    foods = [trace.foods[key] for key in sorted(left.foods)]
    if hold is None or hold.state is not State.CHILLED or not _any_spoils(trace, left):
        return
    rice = _last_hot(trace, left) is not None and any(is_rice(food.item, food.use.name) for food in foods)
    row = limit(rules, "shelf", "rice" if rice else "chilled")
    if row is not None and row.seconds is not None and hold.high > row.seconds:
        yield Finding(
            "kept-too-long",
            left.made.span,
            f"{show_duration(hold.high)} chilled is too long for the {left.made.name}: {edition(rules).name} says no longer than "
            f"{show_duration(row.seconds)}{' for rice' if rice else ''}, {row.note}.",
            (),
            (
                f"Write a shorter hold, or freeze it: holds {show_duration(row.seconds)} chilled.",
                f"{row.source}. {LOCAL}",
            ),
        )


# ------------------------------------------------------------ neither cold nor hot


@dataclass(frozen=True, slots=True)
class _Spell:
    seconds: Fraction
    span: Span
    text: str


def _zone(trace: Trace, rules: Rules) -> Iterator[Finding]:
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
        spells = list(_spells(trace, key)) if _spoils(food) or (food.plant and key in trace.hot_since) else []
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
        f"The {food.use.name} may lie {show_duration(total)} between {_degrees(cold)} and {_degrees(hot)}, all steps and holds together: "
        f"{edition(rules).name} allows {show_duration(least)}.",
        tuple(
            Label(spell.span, f"{show_duration(spell.seconds)} {spell.text}") for spell in spells if spell is not main
        ),
        (_CURE, f"{_sources((alone, hot, cold))} {LOCAL}"),
    )


def _warm(trace: Trace, rules: Rules) -> Iterator[Finding]:
    """Food held warm, which is under what a rule set calls hot."""
    row, hot = limit(rules, "time warm"), limit(rules, "hold hot")
    if row is None or row.seconds is None or hot is None:
        return
    for left in _kept(trace):
        hold = left.made.hold
        if hold is None or hold.state is not State.WARM or hold.low <= row.seconds:
            continue
        if _any_spoils(trace, left):
            yield Finding(
                "danger-zone",
                left.made.span,
                f"{show_duration(hold.low)} warm is too long for the {left.made.name}: {edition(rules).name} allows "
                f"{show_duration(row.seconds)} under {_degrees(hot)}, {row.note}.",
                (),
                (_CURE, f"{_sources((row, hot))} {LOCAL}"),
            )


def _spells(trace: Trace, key: Key) -> Iterator[_Spell]:
    """The times in which a food is neither cold nor hot for certain."""
    for m in trace.moments:
        action = m.action
        open_air = action.standing and action.place is None and action.heat is None and not _on_ice(m, trace)
        asks = key in m.present and trace.spoils(key, action.number) and not _keeps_itself(trace, key, m.present, "")
        if open_air and asks and (seconds := _seconds(m)):
            yield _Spell(seconds, action.span, "left in the open")
    done: set[int] = set()
    # Of several ways to keep it, the first written.
    for left in (*trace.left, *trace.keeps[:1]):
        hold = left.made.hold
        if hold is None or left.made.discarded or key not in left.foods or left.action.number in done:
            continue
        done.add(left.action.number)
        if not trace.spoils(key, left.action.number) or _keeps_itself(trace, key, left.foods, left.made.name):
            continue
        if hold.state in (State.ROOM, State.WARM) and not dry_bake(trace, left):
            yield _Spell(
                hold.low, left.made.span, "held warm" if hold.state is State.WARM else "held at room temperature"
            )
        if hold.cooled_in is not None:
            yield _Spell(hold.cooled_in, left.made.span, _COOLING)
        if hold.back_in is not None:
            yield _Spell(hold.back_in, left.made.span, "getting hot again")


def _any_spoils(trace: Trace, left: Left) -> bool:
    number = left.action.number
    return any(
        trace.spoils(key, number) and not _keeps_itself(trace, key, left.foods, left.made.name)
        for key in sorted(left.foods)
    )


def _keeps_itself(trace: Trace, key: Key, among: frozenset[Key], name: str) -> bool:
    """Whether a cooked plant lies in so much vinegar or sugar, or is so dry, that it keeps. Never what spoils raw."""
    if _spoils(trace.foods[key]):
        return False
    if DRY_WORDS & set(normal_name(name).split()):
        return True
    total = sour = sweet = Fraction(0)
    for food in (trace.foods[one] for one in sorted(among)):
        weight = _grams(food)
        if weight is None or food.item is None:
            continue
        words = food.item.key.split()
        total += weight
        sour += weight if SOUR & {words[0], words[-1]} else 0
        sweet += weight if words[-1] in SWEET else 0
    return total > 0 and (sour >= _SOUR_PART * total or sweet >= _SWEET_PART * total)


def dry_bake(trace: Trace, left: Left) -> bool:
    """Whether it is a dry or sweet bake that keeps in a tin; never what holds meat or fish, or whose weight nobody knows."""
    foods = [trace.foods[key] for key in sorted(left.foods)]
    if any(food.item is not None and {"meat", "fish"} & set(food.item.animal or ()) for food in foods):
        return False
    baked = [
        m for m in trace.moments if m.action.number <= left.action.number and m.action.heat is not None and m.cooks
    ]
    if not any(2 * len(m.acted & left.foods) >= len(left.foods) for m in baked):
        return False
    total = dry = Fraction(0)
    for food in foods:
        weight = _grams(food)
        if weight is None:
            continue
        total += weight
        if food.item is not None and _DRY & set(food.item.key.split()):
            dry += weight
    return total > 0 and dry >= _DRY_PART * total


# ------------------------------------------------------------ without air


def _airless(trace: Trace, rules: Rules) -> Iterator[Finding]:
    told: set[int] = set()
    for left in (*_kept(trace), *trace.keeps):
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
    weights = [(food, _grams(food)) for food in foods]
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


# ------------------------------------------------------------ small things


def _spoils(food: Food) -> bool:
    return spoils(food.use, food.item)


def _seconds(moment: Moment) -> Fraction:
    return Fraction(0) if moment.action.reading is None else seconds_of(moment.action.reading)


def _on_ice(moment: Moment, trace: Trace) -> bool:
    return bool(re.search(r"\bice\b", words_of(moment.action, trace.dish)))


def _grams(food: Food) -> Fraction | None:
    amount = food.use.amount
    if amount is None:
        return None
    quantity = measured(amount)
    if food.use.part is not None and food.item is not None and quantity is not None:
        part = food.item.part(food.use.part)
        if part is not None:
            return quantity.high * part.amount
    return None if quantity is None else grams(quantity, amount.size, food.item)


def _degrees(row: Limit) -> str:
    assert row.celsius is not None
    return show_temperature(row.celsius)


def _sources(rows: Iterable[Limit | None]) -> str:
    return "; ".join(dict.fromkeys(row.source for row in rows if row is not None)) + "."

"""What keeps by itself and what does not, and how long it keeps in the fridge.

Shared by the checks of cooling, of the hours in the open, and of what is kept without air.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from recipec.base.finding import Finding
from recipec.larder.names import normal_name
from recipec.measure.show_reading import show_duration
from recipec.model.reading import State
from recipec.plan.joining import grams
from recipec.plan.rules import LOCAL, Rules, edition, limit
from recipec.plan.safety_foods import is_rice, spoils
from recipec.plan.safety_plants import DRY_WORDS, SOUR, SWEET
from recipec.plan.safety_trace import Food, Key, Left, Moment, Trace, seconds_of, words_of
from recipec.plan.scale import measured

_DRY_PART = Fraction(1, 3)
"""Common practice: what is baked with a third or more of flour, sugar, nuts or chocolate, and no meat or fish, keeps in a tin."""

_SOUR_PART = Fraction(1, 10)
_SWEET_PART = Fraction(1, 3)
"""Common practice: pickles are a tenth vinegar and more, jams a third sugar and more."""

_DRY = frozenset(
    "flour sugar chocolate almond hazelnut walnut pistachio cornmeal oat oats semolina polenta crumb breadcrumb biscuit honey".split()
)


def kept(trace: Trace) -> Iterator[Left]:
    """What an arrow says is held, and is not thrown away."""
    for left in trace.left:
        if left.made.hold is not None and not left.made.discarded:
            yield left


def kept_whole(trace: Trace) -> Iterator[Left]:
    """The dish as it keeps cold by its own fact, where no arrow says it; not dry bakes, nor what does not spoil. Where
    an arrow says how a part of it is held cold, it is that part which keeps."""
    if any(left.made.hold is not None and left.made.hold.state in (State.CHILLED, State.FROZEN) for left in trace.left):
        return
    for left in trace.keeps:
        hold = left.made.hold
        if hold is None or hold.state not in (State.CHILLED, State.FROZEN):
            continue
        if any_spoils(trace, left) and not dry_bake(trace, left):
            yield left
            return


def any_spoils(trace: Trace, left: Left) -> bool:
    """Whether anything in what a step leaves spoils in the open by then."""
    number = left.action.number
    return any(
        trace.spoils(key, number) and not keeps_itself(trace, key, left.foods, left.made.name)
        for key in sorted(left.foods)
    )


def keeps_itself(trace: Trace, key: Key, among: frozenset[Key], name: str) -> bool:
    """Whether a cooked plant lies in so much vinegar or sugar, or is so dry, that it keeps. Never what spoils raw."""
    if spoils_raw(trace.foods[key]):
        return False
    if DRY_WORDS & set(normal_name(name).split()):
        return True
    total = sour = sweet = Fraction(0)
    for food in (trace.foods[one] for one in sorted(among)):
        weight = grams_of(food)
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
        weight = grams_of(food)
        if weight is None:
            continue
        total += weight
        if food.item is not None and _DRY & set(food.item.key.split()):
            dry += weight
    return total > 0 and dry >= _DRY_PART * total


def last_hot(trace: Trace, left: Left) -> Moment | None:
    """The last moment by then in which most of it was over heat; None when it never was."""
    own = [m for m in trace.moments if m.action.number <= left.action.number and m.cooks]
    hot = [m for m in own if 2 * len(m.acted & left.foods) >= max(1, len(left.foods)) and m.acted & left.foods]
    return hot[-1] if hot else None


def shelf_of(trace: Trace, left: Left, rules: Rules) -> Iterator[Finding]:
    """What is kept chilled for longer than a rule set says: `kept-too-long`."""
    hold = left.made.hold
    foods = [trace.foods[key] for key in sorted(left.foods)]
    if hold is None or hold.state is not State.CHILLED or not any_spoils(trace, left):
        return
    rice = last_hot(trace, left) is not None and any(is_rice(food.item, food.use.name) for food in foods)
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


def spoils_raw(food: Food) -> bool:
    """Whether a food spoils as it is bought."""
    return spoils(food.use, food.item)


def time_of(moment: Moment) -> Fraction:
    """Seconds of the step a moment is; nothing where it says none."""
    return Fraction(0) if moment.action.reading is None else seconds_of(moment.action.reading)


def on_ice(moment: Moment, trace: Trace) -> bool:
    """Whether its words say that it lies on ice."""
    return bool(re.search(r"\bice\b", words_of(moment.action, trace.dish)))


def grams_of(food: Food) -> Fraction | None:
    """Weight of a food as written; None when unknown."""
    amount = food.use.amount
    if amount is None:
        return None
    quantity = measured(amount)
    if food.use.part is not None and food.item is not None and quantity is not None:
        part = food.item.part(food.use.part)
        if part is not None:
            return quantity.high * part.amount
    return None if quantity is None else grams(quantity, amount.size, food.item)

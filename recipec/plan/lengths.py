"""How long an action takes for so much of it, and in how many batches."""

from __future__ import annotations

import math
import re
from fractions import Fraction
from typing import NamedTuple

from recipec.measure.convert import Unconvertible, convert
from recipec.measure.quantity import Amount, Dimension, Quantity
from recipec.measure.units import unit
from recipec.model.dish import Dish, FoodAt, Role, Use
from recipec.model.reading import Duration, Reading
from recipec.plan.action_types import Action
from recipec.plan.wording import Desk
from recipec.plan.work_figures import seconds

_CUT = {"halved": 2, "quartered": 4, "in wedges": 6, "cut in wedges": 6}


class Length(NamedTuple):
    """Seconds of one batch, and whether that had to be assumed."""

    seconds: int
    assumed: bool


def length_of(action: Action, desk: Desk, handled: tuple[Use, ...]) -> Length:
    """The long end, times over, paced. `handled` are the foods so far in its strand, its own first."""
    if action.reading is None:
        return Length(seconds("handwork"), True)
    value = action.reading.value
    assert isinstance(value, Duration)
    # `per side` has two times already.
    long = value.high * value.times
    assumed = value.assumed
    if assumed and long <= 1:
        long = Fraction(seconds("handwork"))
    if value.pace is not None:
        many = _paced(value, desk, handled)
        assumed = assumed or many is None
        long *= many or 1
    return Length(max(1, math.ceil(long)), assumed)


def _paced(value: Duration, desk: Desk, handled: tuple[Use, ...]) -> Fraction | None:
    """How many times the pace: plates, or kilograms and the like of what is handled; None when that is not known."""
    pace = value.pace
    assert pace is not None
    if pace.per == "plate":
        return desk.scaled.plates
    if pace.per == "batch":
        return Fraction(1)
    if pace.quantity is None:
        return None
    found = [much for use in handled for much in (_in(use, pace.quantity, desk),) if much is not None]
    return max(found) / pace.quantity.high if found and pace.quantity.high else None


def _in(use: Use, per: Quantity, desk: Desk) -> Fraction | None:
    """How much of a food is handled, in the unit of a pace. What comes in pieces of a weight cooks piece by piece, side by side."""
    amount = desk.scaled.amount(use)
    total = None if amount is None else amount.total()
    if amount is None or total is None:
        return None
    if per.unit.dimension is Dimension.COUNT:
        return total.high if total.unit.kind == per.unit.kind else None
    measured = amount.each if amount.each is not None and total.unit.name == "piece" else amount.contents() or total
    item = desk.item(use)
    each = None if item is None else item.weight_each(amount.size, total.unit.name)
    found = convert(measured, per.unit, None if item is None else item.density(), each)
    return None if isinstance(found, Unconvertible) else found.high


class Takes(NamedTuple):
    """What one piece of gear holds at once, and how long it must recover after a batch (seconds)."""

    amount: Amount
    plates: bool
    recovers: int


def batches_of(action: Action, desk: Desk, takes: Takes, pieces: int) -> int:
    """How many batches: what goes in over what fits into `pieces` of the gear. One where either is not known."""
    room = takes.amount.total()
    if room is None or not room.high:
        return 1
    fits = room.high * pieces
    if takes.plates or room.unit.name == "plate":
        much = desk.scaled.plates
    elif room.unit.dimension is Dimension.COUNT:
        much = _pieces(action, desk)
    else:
        much = _measured(action, desk, room)
    return 1 if much is None else max(1, math.ceil(much / fits))


def _pieces(action: Action, desk: Desk) -> Fraction | None:
    """How many pieces: those named, cut as the cook says, else what the step leaves, else what the dish makes."""
    dish = desk.dish
    for use in _uses(action, dish):
        amount = _there(use, desk)
        total = None if amount is None else amount.total()
        if total is not None and total.unit.name == "piece":
            cut = max(
                (many for words, many in _CUT.items() if any(_says(words, after) for after in use.after)), default=1
            )
            return total.high * cut
    for made in action.made:
        amount = desk.scaled.made(made)
        total = None if amount is None else amount.total()
        if total is not None and total.unit.name == "piece":
            return total.high
    makes = desk.scaled.makes()
    total = None if makes is None else makes.total()
    return total.high if total is not None and total.unit.name == "piece" else None


def _there(use: Use, desk: Desk) -> Amount | None:
    """How much a mark means: its own amount, else all there is of what it names."""
    amount = desk.scaled.amount(use)
    if amount is not None or use.role in (Role.BUY, Role.OUR):
        return amount
    known = next((thing.amount for thing in desk.dish.things if thing.key == use.thing), None)
    return None if known is None else known.scaled(desk.scaled.factor)


def _says(words: str, treatment: str) -> bool:
    return re.search(rf"\b{words}\b", treatment) is not None


def _measured(action: Action, desk: Desk, room: Quantity) -> Fraction | None:
    amounts = [_there(use, desk) for use in _uses(action, desk.dish) if use.role in (Role.TAKE, Role.HANDLE)]
    amounts += [desk.scaled.made(made) for made in action.made if not made.discarded]
    for amount in amounts:
        total = None if amount is None else amount.total()
        if total is not None and total.unit.kind == room.unit.kind:
            return total.to(room.unit).high
    return None


def millilitres(amount: Amount | None) -> int | None:
    """Room that so much takes, a gram as a millilitre; None where it can't be told."""
    measured = None if amount is None else amount.contents() or amount.total()
    if measured is None:
        return None
    if measured.unit.dimension is Dimension.VOLUME:
        return math.ceil(measured.to(unit("ml")).high)
    if measured.unit.dimension is Dimension.MASS:
        return math.ceil(measured.to(unit("g")).high)
    return None


def touches_of(reading: Reading | None, long: int, each: int) -> tuple[tuple[int, ...], str]:
    """Offsets at which hands are wanted within `long` seconds, each for `each` seconds, and the word for it."""
    if reading is None or not reading.touches:
        return (), ""
    offsets: set[int] = set()
    for touch in reading.touches:
        step = int(touch.seconds)
        if step > 0:
            stops = range(step, long, step) if touch.every else (step,)
            offsets.update(at for at in stops if at + each <= long)
    return tuple(sorted(offsets)), reading.touches[0].verb


def _uses(action: Action, dish: Dish) -> list[Use]:
    return [dish.uses[piece.use] for piece in action.pieces if isinstance(piece, FoodAt)]

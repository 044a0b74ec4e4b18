"""Volume, mass and pieces of one thing into each other, through its density or its weight each. Never by a guess."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from recipec.measure.quantity import Dimension, Quantity, Unit


class Lack(StrEnum):
    """Why a conversion cannot be done."""

    NO_DENSITY = "no-density"
    NO_EACH = "no-each"
    WRONG_DIMENSION = "wrong-dimension"


@dataclass(frozen=True, slots=True)
class Unconvertible:
    """`quantity` cannot be said in `to` for this reason."""

    quantity: Quantity
    to: Unit
    reason: Lack


def convert(
    quantity: Quantity, to: Unit, density: Fraction | None = None, each: Fraction | None = None
) -> Quantity | Unconvertible:
    """`quantity` in the unit `to`.

    `density` is in g per ml. `each` is in g per one of the counted unit involved (a piece, a clove). Counted units of two
    kinds never convert into each other. A density or weight of nothing counts as unknown.
    """
    source, target = quantity.unit, to
    if source.kind == target.kind:
        return quantity.to(to)
    weighable = (Dimension.MASS, Dimension.VOLUME, Dimension.COUNT)
    if source.dimension not in weighable or target.dimension not in weighable:
        return Unconvertible(quantity, to, Lack.WRONG_DIMENSION)
    if source.dimension is target.dimension:
        return Unconvertible(quantity, to, Lack.WRONG_DIMENSION)
    ratio = Fraction(1)
    for unit, power in ((source, 1), (target, -1)):
        grams = _grams(unit, density, each)
        if isinstance(grams, Lack):
            return Unconvertible(quantity, to, grams)
        ratio = ratio * grams if power == 1 else ratio / grams
    return Quantity(quantity.low * ratio, quantity.high * ratio, to)


def _grams(unit: Unit, density: Fraction | None, each: Fraction | None) -> Fraction | Lack:
    """Grams of one `unit` of the thing."""
    if unit.dimension is Dimension.MASS:
        return unit.factor
    if unit.dimension is Dimension.VOLUME:
        return unit.factor * density if density else Lack.NO_DENSITY
    return each or Lack.NO_EACH

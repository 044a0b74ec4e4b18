"""The figures of "rounding for people": bounds, and steps by size. Common practice throughout."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from recipec.measure.temperature import nearest

STRICT = Fraction(3, 100)
"""Salt, leavening, gelatin and cures are shown within this part of the exact amount."""

LOOSE = Fraction(5, 100)
"""Everything else."""

FAR_OFF = Fraction(1, 3)
"""Spoons or pieces further off than this are not named at all when the weight is known."""

EXEMPT_BELOW = Fraction(1, 5)
"""Grams (and millilitres) under which no bound holds: kitchen scales end there."""

FINEST = Fraction(1, 100)

STEPS = (
    (Fraction(1000), Fraction(10)),
    (Fraction(100), Fraction(5)),
    (Fraction(20), Fraction(1)),
    (Fraction(5), Fraction(1, 2)),
    (Fraction(0), Fraction(1, 10)),
)
"""From this much on (g or ml) → the step; what misses its bound takes the next finer one, and in the end one of `FINER`."""

FINER = (Fraction(1, 20), FINEST)

HALVES = (Fraction(0), Fraction(1, 2), Fraction(1))
QUARTERS = (Fraction(0), Fraction(1, 4), Fraction(1, 2), Fraction(3, 4), Fraction(1))
QUARTERS_AND_THIRDS = tuple(sorted({*QUARTERS, Fraction(1, 3), Fraction(2, 3)}))
EIGHTHS = tuple(Fraction(eighth, 8) for eighth in range(9))
WHOLE = (Fraction(0), Fraction(1))


def bound(strict: bool) -> Fraction:
    """The bound that a shown amount keeps to."""
    return STRICT if strict else LOOSE


def within(shown: Fraction, exact: Fraction, limit: Fraction) -> bool:
    """Whether `shown` is no further from `exact` than `limit` of it."""
    # In whole numbers, over the one denominator of all three.
    apart = abs(shown.numerator * exact.denominator - exact.numerator * shown.denominator)
    return apart * limit.denominator <= limit.numerator * exact.numerator * shown.denominator


def by_step(value: Fraction, limit: Fraction) -> Fraction:
    """Grams or millilitres rounded to the step of their size, or to a finer one until the bound holds."""
    if value < EXEMPT_BELOW:
        # Too little to weigh, but never nothing.
        return max(nearest(value, FINEST), FINEST) if value > 0 else Fraction(0)
    steps = [step for start, step in STEPS if value >= start] + list(FINER)
    # From 1 kg on the table begins with its coarsest step; the ones for lesser sizes follow as the finer ones.
    return next((near for step in steps if within(near := nearest(value, step), value, limit)), nearest(value, FINEST))


def by_parts(value: Fraction, parts: Iterable[Fraction]) -> Fraction:
    """The nearest number whose fraction is one of `parts` (from 0 to 1), the greater at a tie."""
    whole, rest = divmod(value, 1)
    return whole + min(parts, key=lambda part: (abs(part - rest), -part))

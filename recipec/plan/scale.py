"""A dish for another number of plates, exactly. Rounding is for `measure/show.py`, once, at the end."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from recipec.measure.quantity import Amount, Quantity
from recipec.model.dish import Dish, Flag, Made, Role, ThingKind, Use

# Pinches stay pinches, and fat for the pan follows the pan, not the plates: common practice.
_PINCHES = frozenset({"pinch", "dash", "drop", "splash", "knob"})
_FOR_THE_PAN = (
    "for frying",
    "for deep-frying",
    "for shallow-frying",
    "for searing",
    "for greasing",
    "for the pan",
    "for the tin",
    "for the griddle",
    "to fry",
    "to grease",
)


class Reason(StrEnum):
    """Why no factor can be told."""

    NO_PLATES = "the dish does not say how many it serves"
    NO_YIELD = "the dish does not say how much it makes"
    OTHER_UNIT = "what is asked for and what the dish makes are measured differently"


@dataclass(frozen=True, slots=True)
class Unscalable:
    """No factor, and why."""

    dish: str
    reason: Reason


def written_plates(dish: Dish) -> Fraction | None:
    """Plates of the dish as written: the lower end of `serves`, so that a scaled dish is enough; or its yield by plates."""
    if dish.serves is not None:
        return Fraction(dish.serves[0])
    made, plate = yield_of(dish), None if dish.makes is None else dish.makes.plate
    if made is None or plate is None or made.unit.kind != plate.unit.kind or not plate.high:
        return None
    return made.base_low / plate.base_high


def yield_of(dish: Dish) -> Quantity | None:
    """What the dish as written makes, as one quantity."""
    return None if dish.makes is None else measured(dish.makes.amount)


def measured(amount: Amount) -> Quantity | None:
    """An amount as one quantity; what containers hold counts, not the containers."""
    return amount.contents() or amount.total()


def plates_in(amount: Amount) -> Fraction | None:
    """`2 plates` is 2; None for any other amount. Ranges count by their upper end."""
    total = amount.total()
    return total.high if total is not None and total.unit.name == "plate" else None


def factor_for(dish: Dish, plates: Fraction | None, amount: Amount | None) -> Fraction | Unscalable:
    """How many times the dish as written makes `plates`, or `amount` of it (`2 batches` too); one full yield when both
    are None."""
    if plates is None and amount is not None:
        plates = plates_in(amount)
    if plates is not None:
        written = written_plates(dish)
        return plates / written if written else Unscalable(dish.key, Reason.NO_PLATES)
    if amount is None:
        return Fraction(1)
    made = yield_of(dish)
    asked = measured(amount)
    if asked is not None and asked.unit.name == "batch":
        return asked.high
    if made is None or not made.low:
        return Unscalable(dish.key, Reason.NO_YIELD)
    if asked is None or asked.unit.kind != made.unit.kind:
        return Unscalable(dish.key, Reason.OTHER_UNIT)
    return asked.base_high / made.base_low


@dataclass(frozen=True, slots=True)
class Scaled:
    """A dish, and how many times it is made. `plates` multiply what is given per plate; None where plates are unknown."""

    dish: Dish
    factor: Fraction
    plates: Fraction | None

    def by(self, factor: Fraction) -> Scaled:
        """The same again, so many times as much: by a then b is by ab."""
        return Scaled(self.dish, self.factor * factor, None if self.plates is None else self.plates * factor)

    def amount(self, use: Use) -> Amount | None:
        """How much a mark asks for, scaled; None when it gives no amount, or one per plate of unknown plates."""
        return self._amount(use, frozenset())

    def made(self, made: Made) -> Amount | None:
        """How much a step leaves, scaled."""
        return None if made.amount is None else _times(made.amount, self.factor)

    def makes(self) -> Amount | None:
        """The yield, scaled."""
        return None if self.dish.makes is None else _times(self.dish.makes.amount, self.factor)

    def _amount(self, use: Use, seen: frozenset[str]) -> Amount | None:
        amount = use.amount
        if amount is None:
            return None
        if Flag.PER_PLATE in use.flags:
            return None if self.plates is None else amount.scaled(self.plates)
        if self.factor == 1:
            return amount
        if use.basis is not None:
            return _times(amount, self._ratio(use.basis.thing, seen))
        if use.role in (Role.TAKE, Role.HANDLE):
            return _times(amount, self._ratio(use.thing, seen))
        return _times(amount, self.factor) if grows(use) else amount

    def _ratio(self, key: str, seen: frozenset[str]) -> Fraction:
        """How many times as much there is of a thing: not `factor` where some of it is fixed or goes by the plate."""
        if self.factor == 1:
            return self.factor
        thing = next((thing for thing in self.dish.things if thing.key == key), None)
        if thing is None or thing.kind is ThingKind.MADE or key in seen:
            return self.factor
        brought = [use for use in self.dish.uses if use.thing == key and use.role in (Role.BUY, Role.OUR)]
        if all(grows(use) and use.basis is None and Flag.PER_PLATE not in use.flags for use in brought):
            return self.factor
        as_written = Scaled(self.dish, Fraction(1), None if self.plates is None else self.plates / self.factor)
        before = _sum([as_written._amount(use, seen | {key}) for use in brought])
        after = _sum([self._amount(use, seen | {key}) for use in brought])
        return after.base_high / before.base_high if before and after and before.high else self.factor


def scale(dish: Dish, factor: Fraction, plates: Fraction | None = None) -> Scaled:
    """The dish `factor` times, for `plates`; those are reckoned from what the dish says where they are not given.

    Raises ValueError unless the factor is more than nothing: the caller's mistake.
    """
    if factor <= 0:
        raise ValueError(f"a dish can't be made {factor} times")
    if plates is None:
        written = written_plates(dish)
        plates = None if written is None else written * factor
    return Scaled(dish, factor, plates)


def grows(use: Use) -> bool:
    """Whether a mark's amount grows with the dish: not what is fixed, to taste, a pinch, or fat for the pan."""
    if use.flags & {Flag.FIXED, Flag.TO_TASTE}:
        return False
    if use.amount is not None and use.amount.terms and all(term.unit.name in _PINCHES for term in use.amount.terms):
        return False
    return not any(treatment.startswith(_FOR_THE_PAN) for treatment in use.after)


def _times(amount: Amount, factor: Fraction) -> Amount:
    # Most sheets are of dishes as written, and exact fractions are slow.
    return amount if factor == 1 else amount.scaled(factor)


def _sum(amounts: list[Amount | None]) -> Quantity | None:
    total: Quantity | None = None
    for amount in amounts:
        more = None if amount is None else measured(amount)
        if more is None or (total is not None and total.unit.kind != more.unit.kind):
            return None
        total = more if total is None else total.add(more)
    return total

"""Which packs to buy. A first version: so many of the one pack that comes cheapest.

The exact integer program over all packs and shops takes the place of `cheapest` and keeps its shape.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeAlias

from recipec.measure.quantity import Amount, Quantity
from recipec.model.prices import Price

Grams: TypeAlias = Callable[[Quantity], Fraction | None]
"""The weight of a quantity of the thing, None when unknown."""


@dataclass(frozen=True, slots=True)
class Choice:
    """`count` packs of `price`. `share` is the need as a number of packs, exact: count less share is the surplus.

    `cost` is in the price's currency.
    """

    price: Price
    count: int
    share: Fraction

    @property
    def cost(self) -> Fraction:
        """What is paid at the till."""
        return Fraction(self.price.price.value) * self.count


def cheapest(need: tuple[Amount, ...], prices: Iterable[Price], grams: Grams) -> tuple[Choice, ...]:
    """The packs to buy for a need: () when no price fits it. A need without amount takes one pack, the cheapest.

    Ties go to fewer packs, then to less surplus, then to the name of the shop.
    """
    choices = []
    for price in prices:
        share = _share(need, price.pack, grams)
        if share is not None:
            choices.append(Choice(price, max(1, math.ceil(share)), share))
    return tuple(sorted(choices, key=_rank)[:1])


def _rank(choice: Choice) -> tuple[Fraction, int, Fraction, str, int]:
    return (choice.cost, choice.count, choice.count - choice.share, choice.price.shop, choice.price.span.start)


def _share(need: tuple[Amount, ...], pack: Amount, grams: Grams) -> Fraction | None:
    total = Fraction(0)
    for amount in need:
        part = _number_of(amount, pack, grams)
        if part is None:
            return None
        total += part
    return total


def _number_of(amount: Amount, pack: Amount, grams: Grams) -> Fraction | None:
    """How many packs an amount is: by the containers themselves, by what they hold, or by weight."""
    for wanted in (amount.contents(), amount.total()):
        for held in (pack.contents(), pack.total()):
            if wanted is None or held is None or not held.base_low:
                continue
            if wanted.unit.kind == held.unit.kind:
                return wanted.base_high / held.base_low
    wanted, held = (amount.contents() or amount.total()), (pack.contents() or pack.total())
    if wanted is None or held is None:
        return None
    weight, one = grams(wanted), grams(held)
    return weight / one if weight is not None and one else None


def surplus_of(choice: Choice) -> Amount | None:
    """What is left of the packs, in the pack's own measure; None when all is used."""
    left = choice.count - choice.share
    held = choice.price.pack.contents() or choice.price.pack.total()
    return Amount((held.scaled(left),)) if left and held is not None else None


@dataclass(frozen=True, slots=True)
class Thing:
    need: tuple[Amount, ...]
    prices: tuple[Price, ...]
    grams: Grams

@dataclass(frozen=True, slots=True)
class Purchase:
    choices: tuple[Choice, ...]
    used: Fraction
    surplus: Amount | None

def purchases(things):
    out=[]
    for t in things:
        c=cheapest(t.need,t.prices,t.grams)
        out.append(Purchase(c, Fraction(c[0].price.price.value)*c[0].share if c else Fraction(0), surplus_of(c[0]) if c and t.need else None))
    return tuple(out)

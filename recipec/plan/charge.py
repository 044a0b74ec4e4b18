"""What each mark's food costs: the price of what goes on the plates, shared among all who asked for it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from recipec.model.prices import Price
from recipec.plan.joining import Weighed
from recipec.plan.market_types import Asked
from recipec.plan.packs import Grams, Purchase


def charged(
    asked: Sequence[Asked], bids: Sequence[tuple[Weighed, ...]], purchase: Purchase, grams: Grams
) -> tuple[Asked, ...]:
    """Those who asked, each with its part of `purchase.used`, exactly: by what the wish by itself would come to at the prices
    paid. The parts add up to the whole, also where zest and juice come from one lemon and so share its price.
    """
    if not purchase.choices:
        return tuple(asked)
    weights = [_worth(bid, purchase, grams) for bid in bids]
    whole = sum((weight for weight in weights if weight is not None), Fraction(0))
    if not whole:
        return tuple(asked)
    return tuple(
        ask if weight is None else replace(ask, cost=purchase.used * weight / whole)
        for ask, weight in zip(asked, weights, strict=True)
    )


def _worth(bid: tuple[Weighed, ...], purchase: Purchase, grams: Grams) -> Fraction | None:
    """What the terms of a wish would cost by the packs bought; None for a wish without amount."""
    if not bid:
        return None
    total = Fraction(0)
    for term in bid:
        worth = next(
            (
                found * Fraction(choice.price.price.value)
                for choice in purchase.choices
                if (found := _packs(term, choice.price, grams)) is not None
            ),
            None,
        )
        total += worth or 0
    return total


def _packs(term: Weighed, price: Price, grams: Grams) -> Fraction | None:
    """How many of a pack a wish is. Its own weight goes first: a cup of sifted flour weighs less than one of packed."""
    held = price.pack.contents() or price.pack.total()
    if held is None or not held.base_low:
        return None
    whole = grams(held)
    if term.grams is not None and whole:
        return term.grams / whole
    for asked in (term.amount.contents(), term.amount.total()):
        for pack in (held, price.pack.total()):
            if asked is not None and pack is not None and pack.base_low and asked.unit.kind == pack.unit.kind:
                return asked.base_high / pack.base_low
    return None

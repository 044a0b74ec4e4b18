"""The price of a measure of a thing: as purchased, and of its edible portion."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from recipec.measure.currency import money_words, to_minor
from recipec.measure.language import language_of
from recipec.measure.quantity import Dimension, Quantity, Unit
from recipec.measure.show import Style, shopping
from recipec.measure.units import bare, unit
from recipec.measure.wording import word
from recipec.plan.market_types import Asked, Buy, MarketLine
from recipec.plan.yields import ap_from_ep, ep_cost, unit_cost


class UnitPrices(NamedTuple):
    """Prices with their measure, `£1.10 per kg`; '' where they can't be told."""

    ap: str
    ep: str


def unit_prices_of(line: MarketLine, asked: Asked, currency: str, style: Style) -> UnitPrices:
    """What a kilogram, a litre or one of it was paid for, over all packs bought, and what is left of it by this mark's yield costs."""
    packs = [_held(buy) for buy in line.buy]
    kinds = {held.unit.kind for held in packs if held is not None}
    if line.price is None or None in packs or len(kinds) != 1:
        return UnitPrices("", "")
    held = [pack for pack in packs if pack is not None]
    measure = _measure(held[0].unit)
    bought = sum((pack.base_low for pack in held), Fraction(0)) / measure.factor
    ap = unit_cost(Fraction(line.price.value), bought)
    said = _rate(ap, measure, currency, style)
    return UnitPrices(said, said if asked.left == 1 else _rate(ep_cost(ap, asked.left), measure, currency, style))


def bought_text(asked: Asked, style: Style) -> str:
    """What is bought for a mark where some of it is trimmed away first; '' otherwise."""
    total = None if asked.amount is None else asked.amount.total()
    if total is None or asked.left == 1:
        return ""
    more = ap_from_ep(total.high, asked.left)
    return shopping(Quantity(more, more, total.unit), style).text


def _held(buy: Buy) -> Quantity | None:
    """All that the packs hold."""
    one = buy.pack.contents() or buy.pack.total()
    return None if one is None or one.base_low <= 0 else one.scaled(Fraction(buy.count))


def _measure(sold: Unit) -> Unit:
    # As on the shelf: what is sold by the pound is compared by the pound.
    american = sold.name in ("lb", "oz") or sold.name.startswith("us_")
    match sold.dimension:
        case Dimension.MASS:
            return unit("lb" if american else "kg")
        case Dimension.VOLUME:
            return unit("us_quart" if american else "l")
        case _:
            return sold


def _rate(exact: Fraction, measure: Unit, currency: str, style: Style) -> str:
    money = money_words(to_minor(exact, currency), currency, style.language)
    tongue = language_of(style.language)
    if measure.name == "piece":
        return tongue.say("%(money)s each", money=money)
    litre = tongue.say("litre", context="unit")
    of = litre if measure.name == "l" else word(bare(measure), False, tongue)
    return tongue.say("%(money)s per %(unit)s", money=money, unit=of)

"""Cheaper cuts and kinds that the price book knows, one at a time: they cook differently, so that a cook must decide on each."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction

from recipec.larder.ingredient import Ingredient
from recipec.larder.larder import Larder
from recipec.measure.quantity import Amount, Quantity, one
from recipec.measure.units import unit
from recipec.model.event import Event
from recipec.model.prices import Money, Price
from recipec.plan.bills import Bill, BillLine
from recipec.plan.joining import grams
from recipec.plan.market import to_money
from recipec.plan.market_types import SUPPLIES
from recipec.plan.needs import Food, new_harms
from recipec.plan.packs import Grams, Thing, purchases
from recipec.plan.swaps_types import StandIn


def stand_ins_of(
    bill: Bill, larder: Larder, events: Sequence[Event], prices: Iterable[Price], currency: str
) -> tuple[StandIn, ...]:
    """What the things of a bill could be taken for, where that saves: as much by weight of the other is bought, with what of it is on the
    list already. Most saved first. None that a guest of those events could not eat as well."""
    by_item: dict[str, list[Price]] = {}
    for price in prices:
        by_item.setdefault(price.item, []).append(price)
    found = [
        suggestion
        for line in bill.lines.values()
        if line.department != SUPPLIES and line.cost is not None and line.need and not line.unmeasured
        for suggestion in _of(line, bill, larder, events, by_item, currency)
    ]
    return tuple(sorted(found, key=lambda suggestion: (-suggestion.saving.value, suggestion.name, suggestion.other)))


def _of(
    line: BillLine, bill: Bill, larder: Larder, events: Sequence[Event], prices: dict[str, list[Price]], currency: str
) -> Iterator[StandIn]:
    item = larder.get(line.item)
    for stand_in in () if item is None else larder.stand_ins(line.item):
        other = larder.get(stand_in.key)
        rows = tuple(prices.get(stand_in.key, ()))
        if item is None or other is None or not rows or _harms(item, other, larder, events):
            continue
        there = bill.lines.get((other.department, other.key))
        if there is not None and (there.cost is None or there.unmeasured):
            continue
        need = (*_by_weight(line), *(() if there is None else there.need))
        (bought,) = purchases((Thing(need, rows, _scale_for(other)),))
        if not bought.choices or line.cost is None:
            continue
        before = Fraction(line.cost) + (Fraction(there.cost) if there is not None and there.cost is not None else 0)
        saving: Money = to_money(before - bought.till, currency)
        if saving.value > 0:
            yield StandIn(item.name, other.name, saving, stand_in.note)


def _scale_for(item: Ingredient) -> Grams:
    return lambda quantity: grams(quantity, None, item)


def _by_weight(line: BillLine) -> tuple[Amount, ...]:
    """The need in grams where they are known: two steaks of one cut are not two of the other."""
    return tuple(_weighed(amount, line) for amount in line.need)


def _weighed(amount: Amount, line: BillLine) -> Amount:
    total = amount.contents() or amount.total()
    weight = None if total is None else line.grams(total)
    return amount if weight is None else one(Quantity(weight, weight, unit("g")))


def _harms(item: Ingredient, other: Ingredient, larder: Larder, events: Sequence[Event]) -> bool:
    before, after = (Food(item.name, item),), (Food(other.name, other),)
    return any(
        new_harms(need, before, after, larder) for event in events for seat in event.seats for need in seat.needs
    )

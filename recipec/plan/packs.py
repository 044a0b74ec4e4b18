"""Which packs to buy: of all packs of all shops the set that covers the need for the least money, exactly.

A covering knapsack. Of all sets that cover the need the cheapest is bought; of those the one of fewest packs; of
those the one that leaves least; of those the one that takes most of the pack that comes first, by the name of its
shop and its place in the file, then of the second, and so on. So a book always gives the same list, in whatever order
its prices are read.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import TypeAlias

from recipec.measure.quantity import Amount, Quantity
from recipec.model.prices import Price
from recipec.plan.packs_search import Covering, Row, solved
from recipec.plan.packs_shares import coverings_of

Grams: TypeAlias = Callable[[Quantity], Fraction | None]
"""The weight of a quantity of the thing, None when unknown."""


@dataclass(frozen=True, slots=True)
class Thing:
    """One thing to be bought.

    `need` are the sums that could not be joined, each to be covered; () is a need without amount: one pack, the
    cheapest. The same is bought for a need of nothing. `prices` are all rows for it, in one currency. `grams` weighs
    it.
    """

    need: tuple[Amount, ...]
    prices: tuple[Price, ...]
    grams: Grams


@dataclass(frozen=True, slots=True)
class Choice:
    """`count` packs of `price`, at least one."""

    price: Price
    count: int

    @property
    def cost(self) -> Fraction:
        """What is paid at the till, in the price's currency."""
        return Fraction(self.price.price.value) * self.count


@dataclass(frozen=True, slots=True)
class Purchase:
    """What is bought of a thing.

    `choices` is () when no price fits; sorted by shop and place in the file. `used` is the part of the till that goes
    on the plates: the till times need over bought, exact, for each sum of the need. `surplus` is what is left, a term
    for each sum that leaves something: in the measure of the packs where they agree on one, else in that of the need;
    None when nothing is left, or nobody can say.
    """

    choices: tuple[Choice, ...]
    used: Fraction
    surplus: Amount | None

    @property
    def till(self) -> Fraction:
        """What is paid, in the currency of the prices."""
        return sum((choice.cost for choice in self.choices), Fraction(0))


_NOTHING = Purchase((), Fraction(0), None)


def purchases(things: Sequence[Thing]) -> tuple[Purchase, ...]:
    """What to buy of each thing, in their order. All that leave a choice are settled together; OR-tools is loaded
    only then."""
    ready = [_ready(thing) for thing in things]
    counts = iter(solved([covering for _, _, coverings in ready for covering in coverings]))
    return tuple(
        found or _purchase(thing, prices, [(covering, next(counts)) for covering in coverings])
        for thing, (found, prices, coverings) in zip(things, ready, strict=True)
    )


def _ready(thing: Thing) -> tuple[Purchase | None, tuple[Price, ...], tuple[Covering, ...]]:
    """A thing's purchase where there is nothing to reckon, else its prices in their order and what must be covered."""
    prices = tuple(sorted(thing.prices, key=_place)) if len(thing.prices) > 1 else thing.prices
    need = [amount for amount in thing.need if any(term.high for term in amount.terms)]
    if not prices:
        return _NOTHING, (), ()
    if not need:
        cheapest = min(prices, key=lambda price: price.price.value)
        left = _held(cheapest.pack) if thing.need else None
        return Purchase((Choice(cheapest, 1),), Fraction(0), None if left is None else Amount((left,))), (), ()
    shares = [tuple(number_of(amount, price.pack, thing.grams) for amount in need) for price in prices]
    rows = [Row(place, Fraction(price.price.value)) for place, price in enumerate(prices)]
    coverings = coverings_of(rows, shares)
    return (_NOTHING, (), ()) if coverings is None else (None, prices, coverings)


def _place(price: Price) -> tuple[str, str, int, Fraction, str, Decimal]:
    """Where a row stands among all: by shop, then by its place in the file. The rest tells rows apart that have one place."""
    pack = _held(price.pack)
    size, name = (Fraction(0), "") if pack is None else (pack.low, pack.unit.name)
    return (price.shop, price.span.source.name, price.span.start, size, name, price.price.value)


def _held(pack: Amount) -> Quantity | None:
    return pack.contents() or pack.total()


def number_of(amount: Amount, pack: Amount, grams: Grams) -> Fraction | None:
    """How many packs an amount is: by the containers themselves, by what they hold, or by weight. None when the pack
    can't measure it."""
    for wanted in (amount.contents(), amount.total()):
        for held in (pack.contents(), pack.total()):
            if wanted is None or held is None or not held.low:
                continue
            if wanted.unit == held.unit:
                return wanted.high / held.low
            if wanted.unit.kind == held.unit.kind:
                return wanted.base_high / held.base_low
    wanted, held = _held(amount), _held(pack)
    if wanted is None or held is None:
        return None
    weight, one = grams(wanted), grams(held)
    return weight / one if weight is not None and one else None


def _purchase(thing: Thing, prices: tuple[Price, ...], parts: list[tuple[Covering, tuple[int, ...]]]) -> Purchase:
    bought: dict[int, int] = {}
    used = Fraction(0)
    left: list[Quantity] = []
    need = [amount for amount in thing.need if any(term.high for term in amount.terms)]
    for covering, counts in parts:
        till = amount = Fraction(0)
        for row, count in zip(covering.rows, counts, strict=True):
            if count:
                bought[row.place] = bought.get(row.place, 0) + count
                till += row.cost * count
                amount += row.size * count
        wanted = sum(covering.needs, Fraction(0))
        used += till * wanted / amount
        if amount > wanted:
            packs = [
                (prices[row.place].pack, row.size) for row, count in zip(covering.rows, counts, strict=True) if count
            ]
            over = _left(need[covering.first], packs, amount - wanted)
            if over is not None:
                left.append(over)
    choices = tuple(Choice(prices[place], count) for place, count in sorted(bought.items()))
    return Purchase(choices, used, Amount(tuple(left)) if left else None)


def _left(need: Amount, packs: list[tuple[Amount, Fraction]], over: Fraction) -> Quantity | None:
    """What is left: `over` as a multiple of the need, each pack with its size as such a multiple."""
    held = [(_held(pack), size) for pack, size in packs]
    first = held[0][0]
    if first is not None and all(
        other is not None
        and other.unit.kind == first.unit.kind
        and other.base_low * held[0][1] == first.base_low * size
        for other, size in held
    ):
        number = first.low * over / held[0][1]
        return Quantity(number, number, first.unit)
    wanted = _held(need)
    return None if wanted is None else Quantity(wanted.high * over, wanted.high * over, wanted.unit)

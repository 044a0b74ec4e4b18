"""What a market list says. Types only; `recipec.plan.market.market` fills them.

Every text is ready to be shown; exact amounts stand beside it.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from recipec.base.span import Span
from recipec.measure.quantity import Amount
from recipec.model.prices import Money, Price

SUPPLIES = "supplies"
"""The department of things used up that are not food; it comes after all departments of the larder."""


@dataclass(frozen=True, slots=True)
class Asked:
    """Which mark of which dish asked for how much. `amount` is scaled, None when the mark gives none; `text` words it
    (`to taste` when there is no amount). `factor` is against the dish as written; `apart` what was left out of those plates.

    `cost` is the exact price of what goes on the plates for this mark, None when it is not known or there is no amount; `left` the
    part of what is bought that is left to weigh (1 where nothing is trimmed first).
    """

    dish: str
    title: str
    span: Span
    amount: Amount | None
    text: str
    factor: Fraction
    apart: tuple[str, ...] = ()
    cost: Fraction | None = None
    left: Fraction = Fraction(1)


@dataclass(frozen=True, slots=True)
class Buy:
    """So many packs of one kind from one shop; `price` is of all of them, `row` the price list's line."""

    pack: Amount
    pack_text: str
    count: int
    shop: str
    price: Money
    row: Price


@dataclass(frozen=True, slots=True)
class MarketLine:
    """One thing to get.

    `item` is the larder's key, or the name as the dish has it where the larder does not know it. `need` are the sums, upper
    ends, each kind that cannot be joined apart; () when nobody gave an amount. `need_text` words them, rounded up. `buy` is ()
    when no price is known (then `price` is None), or it is on hand. `surplus_text` is what is left of the packs. `used` prices
    what goes on the plates, exactly, before rounding. `instead` are substitutes that marks of the dishes allow.
    """

    item: str
    name: str
    department: str
    need: tuple[Amount, ...]
    need_text: str
    asked_by: tuple[Asked, ...]
    unmeasured: tuple[Asked, ...]
    on_hand: bool
    buy: tuple[Buy, ...]
    surplus: Amount | None
    surplus_text: str
    price: Money | None
    used: Fraction | None
    instead: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Surplus:
    """What whole batches of a dish leave over: `text` words it."""

    dish: str
    title: str
    text: str


@dataclass(frozen=True, slots=True)
class Market:
    """One list for one or several events.

    `lines` are to be got, by department and then name; `on_hand` are there already. `used` is the price of what goes on the plates,
    `till` of whole packs; None when nothing is priced. `unpriced` names the lines without a price: as long as there are
    any, or an unmeasured need, `at_least` is True and both totals are lower bounds. `problems` are sentences on what could not be reckoned.
    """

    events: tuple[str, ...]
    titles: tuple[str, ...]
    currency: str
    lines: tuple[MarketLine, ...]
    on_hand: tuple[MarketLine, ...]
    used: Money | None
    till: Money | None
    unpriced: tuple[str, ...]
    at_least: bool
    surplus: tuple[Surplus, ...]
    problems: tuple[str, ...]

"""What a costing sheet says. Types only; `recipec.plan.costing` fills them.

Two totals always: what goes on the plates (`used`) and what is paid at the till. Money is in whole coins, and every total is the sum of its
lines to the coin: shares are rounded by largest remainders. Exact amounts stand beside texts where a sum may want them.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from recipec.base.span import Span
from recipec.model.prices import Money
from recipec.plan.market_types import Market


class Uncosted(StrEnum):
    """Why a line has no cost."""

    ON_HAND = "on hand"
    NO_PRICE = "no price known"
    NO_AMOUNT = "no amount given"
    SEASONING = "in the seasoning allowance"


@dataclass(frozen=True, slots=True)
class CostLine:
    """One mark of a dish.

    `need` is the edible portion as the cook asked for it, `left` its yield (1 where nothing is trimmed first), `buy` what is bought for it
    ('' when that is the same). `ap_rate` is the price as purchased and `ep_rate` that of the edible portion, each with its measure
    (`£1.10 per kg`). `cost` is the extension; None with the reason in `why`. `dish` is the key of another dish of the book that the line
    draws on, None for food that is bought.
    """

    name: str
    span: Span
    need: str
    left: Fraction
    buy: str
    ap_rate: str
    ep_rate: str
    cost: Money | None
    why: Uncosted | None
    dish: str | None


@dataclass(frozen=True, slots=True)
class DishCost:
    """One dish, or one version of it, for so many `plates` (None when it is not drawn by plates).

    `used` is the sum of `lines`; `seasoning` the allowance upon it; `total` both. `made` words how much there is of it. `price` is the menu
    price of a plate, `food_cost` the part of it that the food is. `part` is the part of the whole meal's food that this dish is.
    `at_least` when something in it has no cost.
    """

    dish: str
    title: str
    span: Span
    without: tuple[str, ...]
    plates: Fraction | None
    made: str
    lines: tuple[CostLine, ...]
    used: Money
    seasoning: Money
    total: Money
    per_plate: Money | None
    price: Money | None
    food_cost: Fraction | None
    part: Fraction
    at_least: bool


@dataclass(frozen=True, slots=True)
class ItemCost:
    """One line of the market list: `used` of it goes on the plates, `till` is paid, `part` of the whole till. None without a price."""

    item: str
    name: str
    department: str
    need: str
    buy: str
    surplus: str
    used: Money | None
    till: Money | None
    part: Fraction


@dataclass(frozen=True, slots=True)
class Costing:
    """A booking, or one dish by itself (then `guests` is None and there is no budget).

    `used` is the sum of `dishes`, without the seasoning allowance; `total` with it. `till` is what is paid for whole packs and the sum of
    `items`; the budget is held against it (`limit`: in the sheet's own currency, None where no rate is stated), and `left` is less than
    nothing when it is over. `per_guest` and `till_per_guest` are rounded
    to the coin. `price` is the menu price of a guest (of a plate, for a dish), `food_cost` the part of it that `total` is. `components` are
    the dishes made for others, whose cost is in those. `problems` are sentences on what could not be reckoned.
    """

    title: str
    currency: str
    guests: int | None
    dishes: tuple[DishCost, ...]
    components: tuple[DishCost, ...]
    items: tuple[ItemCost, ...]
    used: Money
    seasoning_part: Fraction
    seasoning: Money
    total: Money
    till: Money
    budget: Money | None
    limit: Money | None
    left: Money | None
    per_guest: Money | None
    till_per_guest: Money | None
    price: Money | None
    food_cost: Fraction | None
    unpriced: tuple[str, ...]
    unmeasured: tuple[str, ...]
    on_hand: tuple[str, ...]
    at_least: bool
    problems: tuple[str, ...]
    market: Market

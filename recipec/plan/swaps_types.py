"""What may be saved by taking other choices. Types only; `recipec.plan.swaps.swaps` fills them. Every text is ready to be shown."""

from __future__ import annotations

from dataclasses import dataclass

from recipec.base.span import Span
from recipec.model.prices import Money
from recipec.plan.demand import Chosen


@dataclass(frozen=True, slots=True)
class Swap:
    """One mark of one dish with another of its choices, `place` among (use, *use.choices). `saving` is what it alone takes off the till;
    in a combination less, or more, for packs are whole."""

    dish: str
    title: str
    span: Span
    use: int
    place: int
    before: str
    after: str
    saving: Money


@dataclass(frozen=True, slots=True)
class Barred:
    """A choice that was not looked at, and why, in a sentence. `diet` when it is for a guest's sake, else for want of a price."""

    dish: str
    title: str
    span: Span
    before: str
    after: str
    why: str
    diet: bool


@dataclass(frozen=True, slots=True)
class ShopLeftOut:
    """What the best list costs more when nothing is bought at `shop`; None when some of it can't be had elsewhere, which
    `missing` names."""

    shop: str
    more: Money | None
    missing: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StandIn:
    """A cheaper food that the larder names in place of another. It cooks differently, so that it is in no combination: the method is to be
    checked. `saving` is what it alone takes off the till when as much of it is bought; `said` is how it differs."""

    name: str
    other: str
    saving: Money
    said: str


@dataclass(frozen=True, slots=True)
class Swaps:
    """The cheapest way to shop for those events.

    `base` is the till with every first choice, `best` with those of `combination`, `saving` their difference: at least so much when
    `at_least` says that some prices are not known. `proved` is False when there were too many combinations to look at all. `chosen` makes
    that list (`market(..., chosen=...)`). `single` are swaps that save alone, most first. `shops` are those of the best list.
    `base` and `best` are None when nothing has a price.
    """

    events: tuple[str, ...]
    titles: tuple[str, ...]
    currency: str
    base: Money | None
    best: Money | None
    saving: Money
    proved: bool
    at_least: bool
    chosen: Chosen
    combination: tuple[Swap, ...]
    single: tuple[Swap, ...]
    barred: tuple[Barred, ...]
    shops: tuple[ShopLeftOut, ...]
    stand_ins: tuple[StandIn, ...] = ()

"""What a list comes to, for many choices of the same marks: every part is reckoned once and kept."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from decimal import Decimal

from recipec.larder.larder import Larder
from recipec.measure.quantity import Amount, Dimension
from recipec.measure.show import Style
from recipec.model.book import Book
from recipec.model.event import Event
from recipec.model.prices import Money, Price
from recipec.plan.demand import Chosen
from recipec.plan.gather import Kept
from recipec.plan.market import Draft, Lister, currency_of
from recipec.plan.packs import Grams, Purchase, purchases


@dataclass(frozen=True, slots=True)
class BillLine:
    """One thing of a list: how many marks ask for it without an amount, and what it costs; None when no price fits.

    `sums` says that its need is the plain sum of what marks ask for, so that it is so with any other of them: nothing of it is taken
    in parts, and all that is asked for is of one kind, or weighed.
    """

    item: str
    department: str
    name: str
    need: tuple[Amount, ...]
    unmeasured: int
    cost: Decimal | None
    shops: tuple[str, ...]
    sums: bool
    prices: tuple[Price, ...]
    grams: Grams = field(compare=False)


@dataclass(frozen=True, slots=True)
class Bill:
    """The lines of a list that are to be bought, by department and item, what could not be reckoned, and the till; None when nothing
    is priced."""

    lines: dict[tuple[str, str], BillLine]
    problems: tuple[str, ...]
    till: Money | None

    @property
    def at_least(self) -> bool:
        """Whether more may come to the till."""
        return bool(self.problems) or any(line.cost is None or line.unmeasured for line in self.lines.values())

    def unpriced(self) -> tuple[BillLine, ...]:
        """The lines that no price fits."""
        return tuple(line for line in self.lines.values() if line.cost is None)


@dataclass(slots=True)
class Biller:
    """Bills of the same events, with any choices and any of the shops. The till is that of `market`, to the coin."""

    book: Book
    larder: Larder
    events: tuple[Event, ...]
    style: Style
    kept: Kept = field(default_factory=dict)
    bought: dict[tuple[str, str, tuple[Amount, ...], str | None], Purchase] = field(default_factory=dict)

    def bill(self, chosen: Chosen, without_shop: str | None = None) -> Bill:
        """The bill of those choices, when nothing is bought at one shop."""
        currency = currency_of(self.book, self.events)
        lister = Lister(self.book, self.larder, self.style, currency, self.events, chosen, self.kept)
        total = lister.demand(self.events)
        drafts = [draft for draft in lister.drafts(total) if not draft.on_hand]
        found = self._purchases(drafts, without_shop)
        lines = {
            (draft.department, draft.key): _line(draft, purchase) for draft, purchase in zip(drafts, found, strict=True)
        }
        costs = [line.cost for line in lines.values() if line.cost is not None]
        return Bill(lines, total.problems, Money(sum(costs, Decimal(0)), currency) if costs else None)

    def _purchases(self, drafts: Iterable[Draft], without_shop: str | None) -> list[Purchase]:
        """What to buy of each; what was settled before is not settled again."""
        asked = [((draft.department, draft.key, draft.need, without_shop), draft) for draft in drafts]
        new = {key: draft for key, draft in asked if key not in self.bought}
        things = []
        for draft in new.values():
            thing = draft.thing()
            if without_shop is not None:
                thing = replace(thing, prices=tuple(price for price in thing.prices if price.shop != without_shop))
            things.append(thing)
        self.bought.update(zip(new, purchases(things), strict=True))
        return [self.bought[key] for key, _ in asked]


def _line(draft: Draft, purchase: Purchase) -> BillLine:
    choices = purchase.choices
    cost = sum((Decimal(choice.count) * choice.price.price.value for choice in choices), Decimal(0))
    return BillLine(
        item=draft.key,
        department=draft.department,
        name=draft.name,
        need=draft.need,
        unmeasured=sum(1 for ask in draft.asked if ask.amount is None),
        cost=cost if choices else None,
        shops=tuple(dict.fromkeys(choice.price.shop for choice in choices)),
        sums=_sums(draft),
        prices=draft.prices,
        grams=draft.thing().grams,
    )


def _sums(draft: Draft) -> bool:
    terms = [term for bid in draft.bids for term in bid]
    kinds = {(term.amount.terms[0].unit.kind, term.amount.each, term.amount.size) for term in terms}
    weighed = len(draft.need) == 1 and draft.need[0].terms[0].unit.dimension is Dimension.MASS
    one_kind = len(kinds) == 1 or (weighed and all(term.grams is not None for term in terms))
    return one_kind and not draft.parted

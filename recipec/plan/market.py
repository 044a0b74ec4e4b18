"""The market list: what to get for one or several events, summed through all dishes, rounded last."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from decimal import Decimal
from fractions import Fraction
from typing import NamedTuple

from recipec.larder.ingredient import DEPARTMENTS, Ingredient
from recipec.larder.larder import Larder
from recipec.larder.names import normal_name
from recipec.measure.currency import to_minor
from recipec.measure.language import language_of
from recipec.measure.quantity import Amount, Dimension, Quantity, Unit, one
from recipec.measure.show import AS_WRITTEN, Style, show_amount
from recipec.measure.units import unit
from recipec.model.book import Book
from recipec.model.event import Event
from recipec.model.prices import Money, Price
from recipec.plan.charge import charged
from recipec.plan.demand import FIRST, Ask, Chosen, Demand, Run, demand, orders_of
from recipec.plan.exchange import prices_in
from recipec.plan.gather import Kept, Want, supplies_of, wants_of
from recipec.plan.joining import Weighed, grams, join, weigh, whole_pieces
from recipec.plan.keeping import clusters
from recipec.plan.market_types import SUPPLIES, Asked, Buy, Market, MarketLine, Surplus
from recipec.plan.market_words import content_text, left_text, named, need_text
from recipec.plan.packs import Choice, Purchase, Thing, purchases
from recipec.plan.wording import is_solid

_PLACES = {name: place for place, name in enumerate((*DEPARTMENTS, SUPPLIES))}
_ON_TAP = frozenset({"water"})
_PLATE = unit("plate")


class Reckoned(NamedTuple):
    """A market list and the runs it is for."""

    market: Market
    runs: tuple[Run, ...]


def market(
    book: Book,
    larder: Larder,
    event_keys: Iterable[str],
    style: Style = AS_WRITTEN,
    chosen: Chosen = FIRST,
) -> Market:
    """One list for all of those events; their order never shows. `style` is how the book shows amounts: whose cups an event
    measures by changes nothing in it. `chosen` are the marks of which another choice than the first counts.

    Raises KeyError for an event the book does not have.
    """
    return reckon_events(book, larder, event_keys, style, chosen).market


def reckon_events(
    book: Book,
    larder: Larder,
    event_keys: Iterable[str],
    style: Style = AS_WRITTEN,
    chosen: Chosen = FIRST,
) -> Reckoned:
    """The list of those events, and what is made for them. Raises KeyError for an event the book does not have."""
    events = []
    for key in sorted(set(event_keys)):
        event = book.event(key)
        if event is None:
            raise KeyError(key)
        events.append(event)
    lister = Lister(book, larder, style, currency_of(book, events), tuple(events), chosen)
    total = lister.demand(events)
    return Reckoned(lister.market(total), total.runs)


def reckon_dish(book: Book, larder: Larder, ask: Ask, style: Style = AS_WRITTEN) -> Reckoned:
    """The list for one dish by itself, with nothing on hand, in the book's currency or that of the dish's menu price."""
    dish = book.dish(ask.dish)
    currency = dish.price.currency if dish is not None and dish.price is not None else book.settings.currency
    total = demand(book, larder, (ask,))
    return Reckoned(Lister(book, larder, style, currency, (), FIRST).market(total), total.runs)


def currency_of(book: Book, events: Iterable[Event]) -> str:
    """What is paid in: the currency of the events' budgets or prices where they agree on one, else the book's."""
    named = {money.currency for event in events for money in (event.budget, event.price) if money is not None}
    return named.pop() if len(named) == 1 else book.settings.currency


def to_money(value: Fraction, currency: str) -> Money:
    """To the least coin, halves up. Exact until here."""
    return Money(to_minor(value, currency), currency)


@dataclass(frozen=True, slots=True)
class Draft:
    """A line before its packs are chosen. `bids` are what each mark that gives an amount asks for as it is bought; `parted` when some
    ask for parts of it."""

    key: str
    name: str
    department: str
    need: tuple[Amount, ...]
    asked: tuple[Asked, ...]
    bids: tuple[tuple[Weighed, ...], ...]
    on_hand: bool
    item: Ingredient | None
    instead: tuple[str, ...]
    prices: tuple[Price, ...]
    parted: bool = False

    def thing(self) -> Thing:
        """What the shop is asked for."""
        return Thing(self.need, self.prices, lambda quantity: grams(quantity, None, self.item))


@dataclass(slots=True)
class Lister:
    """Makes the list of some events with the choices of marks that count. `kept` are wishes of lists made before of the same book."""

    book: Book
    larder: Larder
    style: Style
    currency: str
    events: tuple[Event, ...]
    chosen: Chosen
    kept: Kept = field(default_factory=dict)
    prices: dict[str, list[Price]] = field(default_factory=dict)
    demands: dict[tuple[str, ...], tuple[tuple[str, tuple[Want, ...]], ...]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for price in prices_in(self.book, self.currency)[0]:
            self.prices.setdefault(price.item, []).append(price)

    def market(self, total: Demand) -> Market:
        """All of it."""
        drafts = self.drafts(total)
        drafts.sort(key=lambda draft: (_PLACES[draft.department], draft.name.casefold(), draft.key))
        bought = purchases(tuple(draft.thing() for draft in drafts))
        lines = [self._line(draft, purchase) for draft, purchase in zip(drafts, bought, strict=True)]
        to_get = tuple(line for line in lines if not line.on_hand)
        unpriced = tuple(line.name for line in to_get if line.price is None)
        priced = [line for line in to_get if line.price is not None]
        used = sum((line.used for line in priced if line.used is not None), Fraction(0))
        till = sum((line.price.value for line in priced if line.price is not None), Decimal(0))
        return Market(
            events=tuple(event.key for event in self.events),
            titles=tuple(event.title for event in self.events),
            currency=self.currency,
            lines=to_get,
            on_hand=tuple(line for line in lines if line.on_hand),
            used=to_money(used, self.currency) if priced else None,
            till=Money(till, self.currency) if priced else None,
            unpriced=unpriced,
            at_least=bool(unpriced) or bool(total.problems) or any(line.unmeasured for line in to_get),
            surplus=tuple(self._left(run) for run in total.runs if run.surplus),
            problems=total.problems,
        )

    def drafts(self, total: Demand) -> list[Draft]:
        """The lines, before any packs are chosen."""
        on_hand = self._on_hand()
        wants = wants_of(total.runs, self.larder, self.style, self.kept)
        return [self._draft(key, found, key in on_hand) for key, found in wants] + self._supplies(total.runs, on_hand)

    def demand(self, events: Iterable[Event]) -> Demand:
        """All that those events want made."""
        asks = [ask for event in events for ask in orders_of(event)]
        return demand(self.book, self.larder, asks, self.chosen)

    def _on_hand(self) -> frozenset[str]:
        """What every one of the events has: what only one of them has is still bought for the others."""
        # A house has a tap.
        lists = [frozenset(self._key(name) for name in event.on_hand) for event in self.events]
        return frozenset.intersection(*lists) | _ON_TAP if lists else _ON_TAP

    def _key(self, name: str) -> str:
        match = self.larder.find(name)
        return normal_name(name) if match is None else match.ingredient.key

    # ------------------------------------------------------------ lines

    def _draft(self, key: str, wants: tuple[Want, ...], on_hand: bool) -> Draft:
        item = wants[0].ingredient
        bids = tuple(() if want.amount is None else weigh(want.amount, item, want.states) for want in wants)
        terms = [term for want, bid in zip(wants, bids, strict=True) if want.part is None for term in bid]
        for whole in self._pieces_for_parts(key, wants, item):
            terms += weigh(whole, item)
        need = join(terms, self._sold_by(key, terms, item))
        name, asked = named(wants, need, language_of(self.style.language))
        return Draft(
            key=key,
            name=name + content_text(need, self.style),
            department=item.department if item is not None and item.department in _PLACES else "other",
            need=need,
            asked=tuple(replace(ask, left=want.left) for ask, want in zip(asked, wants, strict=True)),
            bids=bids,
            on_hand=on_hand,
            item=item,
            instead=tuple(dict.fromkeys(other for want in wants for other in want.instead)),
            prices=() if on_hand else tuple(self.prices.get(key, ())),
            parted=any(want.part is not None for want in wants),
        )

    def _sold_by(self, key: str, terms: list[Weighed], item: Ingredient | None) -> Unit | None:
        """A unit of the one dimension all its packs are sold in. Pieces asked for as pieces stay pieces, whatever the scale at
        the shop. A metric list weighs what it knows no packs of, unless it pours."""
        packs = [price.pack.contents() or price.pack.total() for price in self.prices.get(key, ())]
        units = [pack.unit for pack in packs if pack is not None]
        counted = any(term.amount.terms[0].unit.dimension is Dimension.COUNT for term in terms)
        if not units and not counted and self.style.measures == "metric" and item is not None and is_solid(item, None):
            return unit("g")
        if counted or len({found.dimension for found in units}) != 1:
            return None
        if units[0].dimension is not Dimension.MASS:
            return units[0]
        return unit("oz" if all(found.name in ("lb", "oz") for found in units) else "g")

    def _supplies(self, runs: tuple[Run, ...], on_hand: frozenset[str]) -> list[Draft]:
        drafts = []
        for key, supplies in supplies_of(runs, self.style):
            bids = tuple(weigh(supply.amount, None) for supply in supplies)
            there = self._key(key) in on_hand
            drafts.append(
                Draft(
                    key=key,
                    name=supplies[0].name,
                    department=SUPPLIES,
                    need=join(term for bid in bids for term in bid),
                    asked=tuple(supply.asked for supply in supplies),
                    bids=bids,
                    on_hand=there,
                    item=None,
                    instead=(),
                    prices=() if there else tuple(self.prices.get(key, ())),
                )
            )
        return drafts

    def _line(self, draft: Draft, purchase: Purchase) -> MarketLine:
        need, choices = draft.need, purchase.choices
        till = sum((Decimal(choice.count) * choice.price.price.value for choice in choices), Decimal(0))
        asked = charged(draft.asked, draft.bids, purchase, draft.thing().grams)
        left = purchase.surplus if need else None
        return MarketLine(
            item=draft.key,
            name=draft.name,
            department=draft.department,
            need=need,
            need_text=" + ".join(need_text(amount, self.style) for amount in need),
            asked_by=tuple(ask for ask in asked if ask.amount is not None),
            unmeasured=tuple(ask for ask in asked if ask.amount is None),
            on_hand=draft.on_hand,
            buy=tuple(self._buy(choice) for choice in choices),
            surplus=left,
            surplus_text="" if left is None else left_text(left, choices, self.style.language),
            price=Money(till, self.currency) if choices else None,
            used=purchase.used if choices else None,
            instead=draft.instead,
        )

    def _buy(self, choice: Choice) -> Buy:
        price = choice.price
        total = Money(price.price.value * choice.count, self.currency)
        shown = show_amount(price.pack, Style(language=self.style.language), written=True)
        tongue = language_of(self.style.language)
        pieces = (tongue.form("piece", "pieces", many, context="unit") for many in (False, True))
        text = shown.with_name(*pieces) if price.pack.terms[0].unit.name == "piece" else shown.text
        return Buy(price.pack, text, choice.count, price.shop, total, price)

    # ------------------------------------------------------------ parts

    def _pieces_for_parts(self, key: str, wants: tuple[Want, ...], item: Ingredient | None) -> tuple[Amount, ...]:
        """Whole things for all the parts asked for. Parts share a piece only while it keeps: see `keeping.py`."""
        parts = sorted({want.part for want in wants if want.part is not None})
        if not parts:
            return ()
        groups = clusters(self.events, parts, item)
        if len(groups) < 2:
            return _whole(wants)
        return tuple(amount for group in groups for amount in _whole(self._wants_in(group, key)))

    def _wants_in(self, events: tuple[Event, ...], key: str) -> tuple[Want, ...]:
        names = tuple(event.key for event in events)
        if names not in self.demands:
            self.demands[names] = wants_of(self.demand(events).runs, self.larder, self.style, self.kept)
        return next((wants for other, wants in self.demands[names] if other == key), ())

    def _left(self, run: Run) -> Surplus:
        if run.dish.makes is not None:
            text = show_amount(run.dish.makes.amount.scaled(run.surplus), self.style).text
        elif run.dish.serves is not None:
            plates = run.surplus * run.dish.serves[0]
            text = show_amount(one(Quantity(plates, plates, _PLATE)), self.style).text
        else:
            text = language_of(self.style.language).say("%(part)s of a batch", part=run.surplus)
        return Surplus(run.dish.key, run.dish.title, text)


def _whole(wants: Iterable[Want]) -> tuple[Amount, ...]:
    return whole_pieces((want.part, want.amount) for want in wants if want.part is not None and want.amount is not None)

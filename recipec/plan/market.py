"""The market list: what to get for one or several events, summed through all dishes, rounded last."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from recipec.larder.ingredient import DEPARTMENTS, Ingredient
from recipec.larder.larder import Larder
from recipec.larder.names import normal_name
from recipec.measure.quantity import Amount, Dimension, Quantity, Unit, one
from recipec.measure.show import AS_WRITTEN, Style, shopping, show_amount
from recipec.measure.units import NOMINAL, unit
from recipec.model.book import Book
from recipec.model.event import Event
from recipec.model.prices import Money, Price
from recipec.plan.demand import FIRST, Chosen, Demand, Run, demand, orders_of
from recipec.plan.exchange import prices_in
from recipec.plan.gather import Want, supplies_of, wants_of
from recipec.plan.joining import Weighed, grams, join, weigh, whole_pieces
from recipec.plan.keeping import clusters
from recipec.plan.market_types import SUPPLIES, Asked, Buy, Market, MarketLine, Surplus
from recipec.plan.market_words import left_text, named
from recipec.plan.packs import Choice, cheapest, surplus_of
from recipec.plan.wording import is_solid

_PLACES = {name: place for place, name in enumerate((*DEPARTMENTS, SUPPLIES))}
_ON_TAP = frozenset({"water"})
_CENT = Decimal("0.01")
_PLATE = unit("plate")


def market(
    book: Book, larder: Larder, event_keys: Iterable[str], style: Style = AS_WRITTEN, chosen: Chosen = FIRST
) -> Market:
    """One list for all of those events; their order never shows. `style` is how the book shows amounts: whose cups an event
    measures by changes nothing in it. `chosen` says which choices of marks count.

    Raises KeyError for an event the book does not have.
    """
    keys = sorted(set(event_keys))
    events = []
    for key in keys:
        event = book.event(key)
        if event is None:
            raise KeyError(key)
        events.append(event)
    return _Lister(book, larder, tuple(events), style, chosen).market()


def currency_of(book: Book, events: Iterable[Event]) -> str:
    """What is paid in: the currency of the events' budgets or prices where they agree on one, else the book's."""
    named = {money.currency for event in events for money in (event.budget, event.price) if money is not None}
    return named.pop() if len(named) == 1 else book.settings.currency


def to_money(value: Fraction, currency: str) -> Money:
    """To the hundredth, halves up. Exact until here."""
    exact = Decimal(value.numerator) / Decimal(value.denominator)
    return Money(exact.quantize(_CENT, ROUND_HALF_UP), currency)


@dataclass(slots=True)
class _Lister:
    book: Book
    larder: Larder
    events: tuple[Event, ...]
    style: Style
    chosen: Chosen
    currency: str = field(init=False)
    prices: dict[str, list[Price]] = field(default_factory=dict)
    demands: dict[tuple[str, ...], tuple[tuple[str, tuple[Want, ...]], ...]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.currency = currency_of(self.book, self.events)
        for price in prices_in(self.book, self.currency)[0]:
            self.prices.setdefault(price.item, []).append(price)

    def market(self) -> Market:
        """All of it."""
        total = self._demand(self.events)
        on_hand = self._on_hand()
        lines = [self._line(key, wants, key in on_hand) for key, wants in wants_of(total.runs, self.larder, self.style)]
        lines += self._supplies(total.runs, on_hand)
        lines.sort(key=lambda line: (_PLACES[line.department], line.name.casefold(), line.item))
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

    def _demand(self, events: Iterable[Event]) -> Demand:
        return demand(self.book, self.larder, [ask for event in events for ask in orders_of(event)], self.chosen)

    def _on_hand(self) -> frozenset[str]:
        """What every one of the events has: what only one of them has is still bought for the others."""
        # A house has a tap.
        lists = [frozenset(self._key(name) for name in event.on_hand) for event in self.events]
        return frozenset.intersection(*lists) | _ON_TAP if lists else _ON_TAP

    def _key(self, name: str) -> str:
        match = self.larder.find(name)
        return normal_name(name) if match is None else match.ingredient.key

    # ------------------------------------------------------------ lines

    def _line(self, key: str, wants: tuple[Want, ...], on_hand: bool) -> MarketLine:
        item = wants[0].ingredient
        terms = [
            term
            for want in wants
            if want.amount is not None and want.part is None
            for term in weigh(want.amount, item, want.states)
        ]
        for whole in self._pieces_for_parts(key, wants, item):
            terms += weigh(whole, item)
        need = join(terms, self._sold_by(key, terms, item))
        name, asked = named(wants, need)
        name += _content(need, self.style)
        instead = tuple(dict.fromkeys(other for want in wants for other in want.instead))
        department = item.department if item is not None and item.department in _PLACES else "other"
        return self._filled(key, name, department, need, asked, on_hand, item, instead)

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

    def _supplies(self, runs: tuple[Run, ...], on_hand: frozenset[str]) -> list[MarketLine]:
        lines = []
        for key, supplies in supplies_of(runs, self.style):
            need = join(term for supply in supplies for term in weigh(supply.amount, None))
            asked = [supply.asked for supply in supplies]
            there = self._key(key) in on_hand
            lines.append(self._filled(key, supplies[0].name, SUPPLIES, need, asked, there, None, ()))
        return lines

    def _filled(
        self,
        key: str,
        name: str,
        department: str,
        need: tuple[Amount, ...],
        asked: list[Asked],
        on_hand: bool,
        item: Ingredient | None,
        instead: tuple[str, ...],
    ) -> MarketLine:
        prices = [] if on_hand else self.prices.get(key, [])
        choices = cheapest(need, prices, lambda quantity: grams(quantity, None, item))
        left = surplus_of(choices[0]) if choices and need else None
        cost = sum((Decimal(choice.count) * choice.price.price.value for choice in choices), Decimal(0))
        return MarketLine(
            item=key,
            name=name,
            department=department,
            need=need,
            need_text=" + ".join(_need_text(amount, self.style) for amount in need),
            asked_by=tuple(ask for ask in asked if ask.amount is not None),
            unmeasured=tuple(ask for ask in asked if ask.amount is None),
            on_hand=on_hand,
            buy=tuple(self._buy(choice) for choice in choices),
            surplus=left,
            surplus_text="" if left is None else left_text(left, choices[0]),
            price=Money(cost, self.currency) if choices else None,
            used=sum((Fraction(choice.price.price.value) * choice.share for choice in choices), Fraction(0))
            if choices
            else None,
            instead=instead,
        )

    def _buy(self, choice: Choice) -> Buy:
        price = choice.price
        total = Money(price.price.value * choice.count, self.currency)
        shown = show_amount(price.pack, written=True)
        text = shown.with_name("piece", "pieces") if price.pack.terms[0].unit.name == "piece" else shown.text
        return Buy(price.pack, text, choice.count, price.shop, total)

    # ------------------------------------------------------------ parts

    def _pieces_for_parts(self, key: str, wants: tuple[Want, ...], item: Ingredient | None) -> tuple[Amount, ...]:
        """Whole things for all the parts asked for. Parts share a piece only while it keeps: see `keeping.py`."""
        parts = sorted({want.part for want in wants if want.part is not None})
        if not parts:
            return ()
        groups = clusters(self.events, parts, item)
        if len(groups) == 1:
            return _whole(wants)
        return tuple(amount for group in groups for amount in _whole(self._wants_in(group, key)))

    def _wants_in(self, events: tuple[Event, ...], key: str) -> tuple[Want, ...]:
        names = tuple(event.key for event in events)
        if names not in self.demands:
            self.demands[names] = wants_of(self._demand(events).runs, self.larder, self.style)
        return next((wants for other, wants in self.demands[names] if other == key), ())

    def _left(self, run: Run) -> Surplus:
        if run.dish.makes is not None:
            text = show_amount(run.dish.makes.amount.scaled(run.surplus), self.style).text
        elif run.dish.serves is not None:
            plates = run.surplus * run.dish.serves[0]
            text = show_amount(one(Quantity(plates, plates, _PLATE)), self.style).text
        else:
            text = f"{run.surplus} of a batch"
        return Surplus(run.dish.key, run.dish.title, text)


def _whole(wants: Iterable[Want]) -> tuple[Amount, ...]:
    return whole_pieces((want.part, want.amount) for want in wants if want.part is not None and want.amount is not None)


def _need_text(amount: Amount, style: Style) -> str:
    term = amount.terms[0]
    if term.unit.name in NOMINAL:
        return show_amount(amount, style).text
    american = style.measures == "us" or (style.measures == "as written" and term.unit.name.startswith("us_"))
    text = _cups(term, style) if american else ""
    text = text or shopping(term, style).text
    if amount.size is not None:
        text = f"{text} {amount.size}"
    if amount.each is not None and term.unit.name != "piece":
        text += f" ({_each_text(amount, style)})"
    return text


def _cups(term: Quantity, style: Style) -> str:
    """A volume in cups and spoons, rounded up; '' for anything else."""
    if term.unit.dimension is not Dimension.VOLUME:
        return ""
    tries = (show_amount(one(term.scaled(1 + Fraction(more, 100))), style) for more in range(11))
    return next((shown.text for shown in tries if shown.high is not None and shown.high >= term.base_high), "")


def _content(need: tuple[Amount, ...], style: Style) -> str:
    """What one piece weighs follows its name: 6 steaks (200 g each)."""
    if len(need) == 1 and need[0].each is not None and need[0].terms[0].unit.name == "piece":
        return f" ({_each_text(need[0], style)})"
    return ""


def _each_text(amount: Amount, style: Style) -> str:
    assert amount.each is not None
    term = amount.terms[0]
    several = term.unit.dimension is Dimension.COUNT and term.high > 1
    return f"{show_amount(one(amount.each), style).text}{' each' if several else ''}"

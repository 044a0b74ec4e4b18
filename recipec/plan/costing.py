"""The costing sheet: what every dish, plate and guest costs, and what is paid at the till."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from fractions import Fraction

from recipec.larder.larder import Larder
from recipec.measure.currency import share_out, to_minor
from recipec.measure.language import Language, language_of
from recipec.measure.show import AS_WRITTEN, Style
from recipec.model.book import Book
from recipec.model.event import Event
from recipec.model.prices import Money
from recipec.plan.costing_types import Costing, CostLine, DishCost, ItemCost, Uncosted
from recipec.plan.demand import Ask, Draw, Run
from recipec.plan.exchange import Rates
from recipec.plan.market import Reckoned, reckon_dish, reckon_events
from recipec.plan.market_types import Asked, Market, MarketLine
from recipec.plan.scale import Scaled
from recipec.plan.unit_prices import bought_text, unit_prices_of
from recipec.plan.wording import Desk, makes_text
from recipec.plan.yields import food_cost_part

_NOTHING = Fraction(0)


def cost_event(book: Book, larder: Larder, key: str, style: Style = AS_WRITTEN) -> Costing:
    """The costing sheet of a booking. Raises KeyError for an event the book does not have."""
    event = book.event(key)
    if event is None:
        raise KeyError(key)
    return event_costing(book, larder, event, reckon_events(book, larder, (key,), style), style)


def event_costing(book: Book, larder: Larder, event: Event, reckoned: Reckoned, style: Style = AS_WRITTEN) -> Costing:
    """The costing sheet of a booking whose market list is there already."""
    served = [order.dish for course in event.courses for order in course.orders if order.dish is not None]
    coster = _Coster(book, larder, reckoned, style, tuple(dict.fromkeys(served)))
    return coster.costing(event.title, event.guests, event.budget, event.price)


def cost_dish(book: Book, larder: Larder, ask: Ask, style: Style = AS_WRITTEN) -> Costing:
    """The costing sheet of one dish by itself, with nothing on hand. Raises KeyError for a dish the book does not have."""
    dish = book.dish(ask.dish)
    if dish is None:
        raise KeyError(ask.dish)
    return _Coster(book, larder, reckon_dish(book, larder, ask, style), style, (dish.key,)).costing(
        dish.title, None, None, dish.price
    )


_Version = tuple[str, tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class _Charge:
    """A line before its money is in coins. `exact` is None where there is no cost, with the reason; `least` when more may come to it."""

    line: CostLine
    exact: Fraction | None
    least: bool


@dataclass(slots=True)
class _Coster:
    book: Book
    larder: Larder
    reckoned: Reckoned
    style: Style
    order: tuple[str, ...]
    charges: dict[_Version, list[_Charge]] = field(default_factory=dict)
    totals: dict[_Version, Fraction] = field(default_factory=dict)
    least: dict[_Version, bool] = field(default_factory=dict)

    @property
    def market(self) -> Market:
        return self.reckoned.market

    def costing(self, title: str, guests: int | None, budget: Money | None, price: Money | None) -> Costing:
        """All of it. For a dish `guests` is None."""
        self._charge()
        runs = self.reckoned.runs
        served = [(run, _part_of(run, run.served)) for run in runs if run.served]
        # As they are served; a version after the dish as it is.
        served.sort(key=lambda pair: (self.order.index(pair[0].dish.key), pair[0].without))
        exact = tuple(self.totals[_version(run)] * part for run, part in served)
        used = self._coins(sum(exact, _NOTHING))
        quota = self.book.settings.seasoning
        seasoning = self._coins(sum(exact, _NOTHING) * quota)
        shares = zip(self._share(used, exact), self._share(seasoning, exact), strict=True)
        dishes = tuple(
            self._dish(run, part, *share, used, component=False)
            for (run, part), share in zip(served, shares, strict=True)
        )
        components = tuple(self._component(run, quota, used) for run in runs if run.served != run.factor - run.surplus)
        total = Money(used.value + seasoning.value, used.currency)
        till = self.market.till or Money(self._coins(_NOTHING).value, self.market.currency)
        plates = None if guests is not None or not dishes else dishes[0].plates
        eaters = Fraction(guests) if guests else plates
        limit = self._here(budget)
        per_head = None if not eaters else Fraction(total.value) / eaters
        return Costing(
            title=title,
            currency=self.market.currency,
            guests=guests,
            dishes=dishes,
            components=components,
            items=self._items(till),
            used=used,
            seasoning_part=quota,
            seasoning=seasoning,
            total=total,
            till=till,
            budget=budget,
            limit=limit,
            left=Money(limit.value - till.value, limit.currency) if limit is not None else None,
            per_guest=None if per_head is None else self._coins(per_head),
            till_per_guest=None if not eaters else self._coins(Fraction(till.value) / eaters),
            price=price,
            food_cost=self._food_cost(per_head, price),
            unpriced=self.market.unpriced,
            unmeasured=tuple(line.name for line in self.market.lines if line.unmeasured),
            on_hand=tuple(line.name for line in self.market.on_hand),
            at_least=bool(self.market.unpriced or self.market.problems) or any(dish.at_least for dish in dishes),
            problems=self.market.problems,
            market=self.market,
        )

    # ------------------------------------------------------------ dishes

    @property
    def _tongue(self) -> Language:
        return language_of(self.style.language)

    def _charge(self) -> None:
        """Every run's lines with their exact cost, what a dish is made of before it."""
        own: dict[_Version, list[_Charge]] = {}
        for line in (*self.market.lines, *self.market.on_hand):
            for asked in (*line.asked_by, *line.unmeasured):
                own.setdefault((asked.dish, asked.apart), []).append(self._line(line, asked))
        runs = {_version(run): run for run in self.reckoned.runs}
        for version, run in runs.items():
            charges = own.get(version, [])
            charges += [self._draw(draw, runs.get((draw.dish, draw.without))) for draw in run.draws]
            charges.sort(key=lambda charge: (charge.line.span.source.name, charge.line.span.start, charge.line.name))
            self.charges[version] = charges
            self.totals[version] = sum((charge.exact for charge in charges if charge.exact), _NOTHING)
            self.least[version] = any(charge.least for charge in charges)

    def _line(self, line: MarketLine, asked: Asked) -> _Charge:
        why = None if asked.cost is not None else self._why(line, asked)
        rates = unit_prices_of(line, asked, self.market.currency, self.style)
        shown = CostLine(
            name=line.name,
            span=asked.span,
            need=asked.text,
            left=asked.left,
            buy=bought_text(asked, self.style),
            ap_rate=rates.ap,
            ep_rate=rates.ep,
            cost=None,
            why=why,
            dish=None,
        )
        return _Charge(shown, asked.cost, why in (Uncosted.NO_PRICE, Uncosted.NO_AMOUNT))

    def _why(self, line: MarketLine, asked: Asked) -> Uncosted:
        if line.on_hand:
            return Uncosted.ON_HAND
        if asked.amount is None:
            return Uncosted.SEASONING if self.book.settings.seasoning else Uncosted.NO_AMOUNT
        return Uncosted.NO_PRICE

    def _draw(self, draw: Draw, below: Run | None) -> _Charge:
        dish = self.book.dish(draw.dish)
        title = draw.dish if dish is None else dish.title
        version = (draw.dish, draw.without)
        known = below is not None and version in self.totals
        shown = CostLine(
            name=self._tongue.say("our %(food)s", food=title) if draw.use.name else title,
            span=draw.use.span,
            need="" if below is None else self._made(below, draw.factor),
            left=Fraction(1),
            buy="",
            ap_rate="",
            ep_rate="",
            cost=None,
            why=None if known else Uncosted.NO_PRICE,
            dish=draw.dish,
        )
        exact = self.totals[version] * _part_of(below, draw.factor) if known and below is not None else None
        return _Charge(shown, exact, not known or self.least[version])

    def _dish(
        self, run: Run, part: Fraction, used: Decimal, seasoning: Decimal, whole: Money, *, component: bool
    ) -> DishCost:
        version, currency = _version(run), self.market.currency
        charges = self.charges[version]
        coins = share_out(used, tuple((charge.exact or _NOTHING) * part for charge in charges), currency)
        total = used + seasoning
        plates = run.plates if component else run.served_plates
        # From the coins that stand above it, so that one plate costs what the dish does.
        per_plate = Fraction(total) / plates if plates else None
        return DishCost(
            dish=run.dish.key,
            title=run.dish.title,
            span=run.dish.title_span,
            without=run.without,
            plates=plates,
            made=self._made(run, run.factor * part),
            lines=tuple(_with_cost(charge, coin, currency) for charge, coin in zip(charges, coins, strict=True)),
            used=Money(used, currency),
            seasoning=Money(seasoning, currency),
            total=Money(total, currency),
            per_plate=None if per_plate is None else self._coins(per_plate),
            price=run.dish.price,
            food_cost=self._food_cost(per_plate, run.dish.price),
            part=Fraction(used) / Fraction(whole.value) if whole.value else _NOTHING,
            at_least=self.least[version],
        )

    def _made(self, run: Run, factor: Fraction) -> str:
        """How much so many times the dish makes, in words; '' where it does not say."""
        if run.dish.makes is None:
            return ""
        return makes_text(Desk(Scaled(run.dish, factor, None), self.larder, self.style), run.dish.makes)

    def _component(self, run: Run, quota: Fraction, whole: Money) -> DishCost:
        exact = self.totals[_version(run)]
        used, seasoning = self._coins(exact), self._coins(exact * quota)
        return self._dish(run, Fraction(1), used.value, seasoning.value, whole, component=True)

    # ------------------------------------------------------------ the till

    def _items(self, till: Money) -> tuple[ItemCost, ...]:
        """By what they take of the till, the dearest first; those without a price last."""
        lines = self.market.lines
        used = self._coins(sum((line.used for line in lines if line.used), _NOTHING))
        shares = self._share(used, tuple(line.used or _NOTHING for line in lines))
        items = [
            ItemCost(
                item=line.item,
                name=line.name,
                department=line.department,
                need=line.need_text,
                buy=" + ".join(f"{buy.count} × {buy.pack_text}" for buy in line.buy),
                surplus=line.surplus_text,
                used=None if line.price is None else Money(share, self.market.currency),
                till=line.price,
                part=Fraction(line.price.value) / Fraction(till.value) if line.price and till.value else _NOTHING,
            )
            for line, share in zip(lines, shares, strict=True)
        ]
        return tuple(sorted(items, key=lambda item: (item.till is None, -item.part, item.name.casefold(), item.item)))

    def _coins(self, exact: Fraction) -> Money:
        return Money(to_minor(exact, self.market.currency), self.market.currency)

    def _share(self, total: Money, exact: Sequence[Fraction]) -> tuple[Decimal, ...]:
        return share_out(total.value, tuple(exact), self.market.currency)

    def _food_cost(self, exact: Fraction | None, price: Money | None) -> Fraction | None:
        here = self._here(price)
        if exact is None or here is None or here.value <= 0:
            return None
        return food_cost_part(exact, Fraction(here.value))

    def _here(self, money: Money | None) -> Money | None:
        """A sum in the currency of the sheet; None where no rate is stated."""
        return None if money is None else Rates(self.book.settings.rates).to(money, self.market.currency)


def _version(run: Run) -> _Version:
    return (run.dish.key, run.without)


def _part_of(run: Run, factor: Fraction) -> Fraction:
    """The part of a run that so much of it is; what whole batches leave over is paid by those who wanted the batch."""
    return factor / (run.factor - run.surplus)


def _with_cost(charge: _Charge, coin: Decimal, currency: str) -> CostLine:
    return charge.line if charge.exact is None else replace(charge.line, cost=Money(coin, currency))

"""What is to be said of one event's money: unknown prices, old ones, other currencies, and the budget."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from recipec.base.finding import Finding, Label
from recipec.base.span import Span
from recipec.measure.currency import in_coins
from recipec.model.book import Book
from recipec.model.event import Event
from recipec.model.prices import Money, Price
from recipec.plan.exchange import Rates, prices_in
from recipec.plan.market_types import Market, MarketLine

_MOST_NAMES = 8
_MOST_MARKS = 5


def money_findings(book: Book, event: Event, market: Market) -> tuple[Finding, ...]:
    """The findings of one event, whose own market list `market` is; in the order of their places.

    A thing that has a price only in a currency nobody can convert is told once, as `currency-mismatch`; every other thing
    without a price as `no-price`. Prices without a day are never called old.
    """
    usable, left_out = prices_in(book, market.currency)
    unpriced = [line for line in market.lines if line.price is None]
    foreign = [line for line in unpriced if any(price.item == line.item for price in left_out)]
    found = [
        *_foreign(event, market, foreign, left_out),
        *_unpriced(event, market, [line for line in unpriced if line not in foreign], usable),
        *_stale(book, event, market),
        *_budget(book, event, market),
    ]
    return tuple(sorted(found, key=lambda finding: finding.order))


def _stated_at(event: Event) -> Span:
    """Where the event speaks of money, its title when it does not."""
    return event.budget_span or event.price_span or event.title_span


def _unpriced(event: Event, market: Market, lines: Sequence[MarketLine], usable: Sequence[Price]) -> Iterator[Finding]:
    if not lines:
        return
    names = [line.name for line in lines]
    total = "there is no total" if market.till is None else f"the total is at least {money_words(market.till)}"
    marks = (mark for line in lines for mark in (*line.asked_by, *line.unmeasured)[:1])
    labels = tuple(Label(mark.span, "asked for here") for mark, _ in zip(marks, range(_MOST_MARKS), strict=False))
    yield Finding(
        "no-price",
        _stated_at(event),
        f"No price can be reckoned for {listed(names)}, so {total}.",
        labels,
        tuple(_no_price_hints(lines, usable)),
    )


def _no_price_hints(lines: Sequence[MarketLine], usable: Sequence[Price]) -> Iterator[str]:
    rows = {price.item for price in usable}
    other_measure = [line.name for line in lines if line.item in rows]
    none_at_all = [line.name for line in lines if line.item not in rows]
    if none_at_all:
        yield f"Add a row to prices.csv for {listed(none_at_all)}, or name as `on hand` what is there already."
    if other_measure:
        yield (
            f"{listed(other_measure)}: the packs in prices.csv are of another measure than what the dishes ask for. "
            "Write in larder.csv what a piece or a spoon weighs, or the pack by weight."
        )


def _stale(book: Book, event: Event, market: Market) -> Iterator[Finding]:
    if event.serve is None:
        return
    day = event.serve.date()
    stands = book.settings.prices_stand_days
    for line in market.lines:
        for price in (buy.row for buy in line.buy):
            age = 0 if price.seen is None else (day - price.seen).days
            if age <= stands:
                continue
            yield Finding(
                "stale-price",
                price.seen_span or price.span,
                f"The price of {price.name} was seen {_days(age)} before {event.title} is served; prices stand for {_days(stands)}.",
                (Label(_stated_at(event), "reckoned with here"),),
                (
                    "See what it costs now, and write the new price with its day.",
                    f'How long prices stand is set in cookbook.toml: prices_stand = "{stands} d"',
                ),
            )


def _foreign(event: Event, market: Market, lines: Sequence[MarketLine], left_out: Sequence[Price]) -> Iterator[Finding]:
    for line in lines:
        rows = [price for price in left_out if price.item == line.item]
        price = rows[0]
        yield Finding(
            "currency-mismatch",
            price.span,
            f"{event.title} is reckoned in {market.currency} and the price of {line.name} is in {price.price.currency}, so it is left out.",
            (Label(_stated_at(event), "reckoned for this"), *(Label(row.span, "and here") for row in rows[1:3])),
            _rate_hints(price.price.currency, market.currency, f"add a row with a price in {market.currency}"),
        )


def _budget(book: Book, event: Event, market: Market) -> Iterator[Finding]:
    if event.budget is None or market.till is None:
        return
    budget = Rates(book.settings.rates).to(event.budget, market.currency)
    if budget is None:
        yield Finding(
            "currency-mismatch",
            _stated_at(event),
            f"The budget is in {event.budget.currency} and the list in {market.currency}, so they can't be compared.",
            hints=_rate_hints(event.budget.currency, market.currency, f"write the budget in {market.currency}"),
        )
        return
    over = Money(market.till.value - budget.value, market.currency)
    if over.value <= 0:
        return
    least = "at least " if market.at_least else ""
    yield Finding(
        "over-budget",
        _stated_at(event),
        f"What is to be bought comes to {least}{money_words(market.till)}, {money_words(over)} over the budget.",
        hints=(f"`recipec cost {event.key} --swaps` shows what to change to save most.",),
    )


def _rate_hints(currency: str, other: str, else_: str) -> tuple[str, ...]:
    return (f'State a rate in cookbook.toml, as rates = "1 {currency} = … {other}", or {else_}.',)


def money_words(money: Money) -> str:
    """`12.40 GBP`, `193 JPY`, as a budget is written."""
    return f"{in_coins(money.value, money.currency)} {money.currency}"


def listed(names: Sequence[str]) -> str:
    """`a`, `a and b`, `a, b and 4 more`."""
    shown = (
        list(names)
        if len(names) <= _MOST_NAMES
        else [*names[: _MOST_NAMES - 1], f"{len(names) - _MOST_NAMES + 1} more"]
    )
    return shown[0] if len(shown) == 1 else f"{', '.join(shown[:-1])} and {shown[-1]}"


def _days(count: int) -> str:
    return "1 day" if count == 1 else f"{count} days"

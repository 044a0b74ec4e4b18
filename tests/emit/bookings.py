"""An invented booking and its market list, made by hand."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal
from fractions import Fraction

from recipec.base.source import Source
from recipec.base.span import Span
from recipec.measure.quantity import Amount, one, quantity
from recipec.measure.units import unit
from recipec.model.event import Course, Event, Need, NeedKind, Order, OrderAt, Seat, Words
from recipec.model.prices import Money, Price
from recipec.plan.market_types import Asked, Buy, Market, MarketLine, Surplus

NOWHERE = Span(Source("supper.event", "a\nb\nc"), 4, 5)


def order(
    dish: str, written: str, plates: int | None = None, without: tuple[str, ...] = (), seats: tuple[int, ...] = ()
) -> Order:
    """An order of one dish."""
    return Order(NOWHERE, written, dish, None if plates is None else Fraction(plates), None, without, seats, ())


def event(key: str = "supper", title: str = "Supper at the slate house", said: str = "A supper by the water.") -> Event:
    """Two courses: one in prose, one a list with plates that differ."""
    prose = Course(
        NOWHERE, "Starter", datetime(2026, 10, 17, 19, 30), None, None, None,
        ((OrderAt(0), Words(" with warm bread, " + said)),), (order("charred-leeks", "our charred leeks"),),
    )  # fmt: skip
    listing = Course(
        NOWHERE, said, None, None, "Starter", Fraction(2400),
        ((OrderAt(0), Words(" "), OrderAt(1)),),
        (order("vegetable-stock", "stock", 7), order("vegetable-stock", "stock", 1, ("leek tops", said), (3, 6))),
    )  # fmt: skip
    seats = (
        Seat(1, ()),
        Seat(3, (Need(NOWHERE, NeedKind.ALLERGIC, "nuts"), Need(NOWHERE, NeedKind.DIET, "vegetarian"))),
    )
    return Event(
        key=key, title=title, span=NOWHERE, title_span=NOWHERE, guests=8, expecting=1, under_five=0, children=2,
        children_plate=Fraction(1, 2), crew=0, spare=1, serve=datetime(2026, 10, 17, 19, 30), arrive=None, leave_by=None,
        prepare=(), kitchen="boathouse", hands=(), budget=Money(Decimal("160"), "GBP"), price=None, on_hand=("salt",),
        seats=seats, aim="calm", reserve_s=Fraction(0), measures="", accepted=(), prose=(said,), courses=(prose, listing),
    )  # fmt: skip


def grams(number: int) -> Amount:
    """So many grams."""
    return one(quantity(number, unit("g")))


def list_of(said: str = "butter") -> Market:
    """A list of a thing with a price, one without, and one on hand."""
    asked = Asked("charred-leeks", "Charred leeks with oats", NOWHERE, grams(120), "120\u00a0g", Fraction(1), (said,))
    tasted = Asked("gone", said, NOWHERE, None, "to taste", Fraction(1))
    row = Price("butter", said, grams(250), Money(Decimal("2.40"), "GBP"), said, None, NOWHERE)
    buy = Buy(grams(250), "250\u00a0g", 1, said, row.price, row)
    butter = MarketLine(
        said, said, "dairy and eggs", (grams(120),), "120\u00a0g", (asked,), (), False, (buy,), grams(130), "130\u00a0g",
        Money(Decimal("2.4"), "GBP"), Fraction(6, 5), (said,),
    )  # fmt: skip
    oats = MarketLine("oats", "oats", "dry goods", (), "", (), (tasted,), False, (), None, "", None, None, ())
    salt = MarketLine("salt", "salt", "spices", (), "", (), (tasted,), True, (), None, "", None, None, ())
    return Market(
        ("supper",), (said,), "GBP", (butter, oats), (salt,), Money(Decimal("1.20"), "GBP"), Money(Decimal("2.40"), "GBP"),
        ("oats",), True, (Surplus("vegetable-stock", "Vegetable stock", "200\u00a0ml"),), (said,),
    )  # fmt: skip

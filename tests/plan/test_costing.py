"""The costing sheet: two totals, shares that add up, and nothing unknown counted as nothing."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest

from recipec.measure.currency import money_words, percent_words, share_out, to_minor
from recipec.model.book import Book
from recipec.model.dish import Dish, Flag
from recipec.model.event import Event
from recipec.model.prices import Money, Price
from recipec.model.settings import Settings
from recipec.plan.costing import cost_dish, cost_event
from recipec.plan.costing_types import Costing, DishCost, Uncosted
from recipec.plan.demand import Ask
from tests.changed import replace
from tests.plan.make import Ordered, amount, book, buy, dish, event, our, price, stocked


def eur(value: str) -> Money:
    return Money(Decimal(value), "EUR")


def costed(made: Book, key: str = "supper") -> Costing:
    return cost_event(made, stocked(), key)


def of(*dishes: Dish, prices: tuple[Price, ...], **more: object) -> Costing:
    orders = tuple(Ordered(one.key) for one in dishes)
    return costed(book(dishes, [event("supper", *orders, **more)], prices))  # type: ignore[arg-type]


def sheet(found: Costing, key: str) -> DishCost:
    return next(one for one in (*found.dishes, *found.components) if one.dish == key)


def roots(key: str = "roots", grams: int = 400) -> Dish:
    return dish(key, buy(f"{grams} g carrots", "carrots", amount(grams, "g")), larder=stocked())


CARROTS = price("carrot", amount(1, "kg"), "2.00")


def test_used_and_till() -> None:
    found = of(roots(), prices=(CARROTS,), guests=4)
    assert (found.used, found.till) == (eur("0.80"), eur("2.00"))
    assert (found.per_guest, found.till_per_guest) == (eur("0.20"), eur("0.50"))
    assert sheet(found, "roots").per_plate == eur("0.20")
    assert not found.at_least


def test_edible_portion_costs_more_than_what_was_bought() -> None:
    peeled = dish("soup", buy("400 g peeled squash", "squash", amount(400, "g"), before=("peeled",)), larder=stocked())
    found = of(peeled, prices=(price("squash", amount(1, "kg"), "3.00"),), guests=4)
    (line,) = sheet(found, "soup").lines
    # 400 g at a yield of 4/5 are 500 g as bought: half the kilogram.
    assert (line.left, line.cost) == (Fraction(4, 5), eur("1.50"))
    assert (line.ap_rate, line.ep_rate) == ("€3.00 per kg", "€3.75 per kg")
    assert line.buy.replace("\u00a0", " ") == "500 g"
    # Culinary mathematics: EP × its cost is AP × its cost.
    assert Fraction(4, 10) * Fraction("3.75") == Fraction(5, 10) * 3


def test_zest_and_juice_share_the_price_of_the_lemon() -> None:
    zest = buy("zest of 2 lemons", "lemons", amount(2), part="zest")
    juice = buy("juice of 1 lemon", "lemon", amount(1), part="juice")
    found = of(dish("tart", zest, juice, larder=stocked()), prices=(price("lemon", amount(1), "0.60"),), guests=4)
    assert found.till == found.used == eur("1.20")
    assert [line.cost for line in sheet(found, "tart").lines] == [eur("0.80"), eur("0.40")]


def test_what_a_component_costs_is_in_the_dishes_made_with_it_and_nowhere_twice() -> None:
    stock = dish(
        "stock", buy("1 kg carrots", "carrots", amount(1, "kg")), serves=None, makes=amount(1, "l"), larder=stocked()
    )
    soup = dish("soup", our("300 ml our stock", "stock", "stock", amount(300, "ml")))
    sauce = dish("sauce", our("100 ml our stock", "stock", "stock", amount(100, "ml")))
    found = of(soup, sauce, stock, prices=(CARROTS,), guests=4)
    # A full yield of stock is served by itself, and 400 ml go into the dishes.
    assert found.used == eur("2.80")
    assert [(one.dish, one.used) for one in found.dishes] == [
        ("soup", eur("0.60")), ("sauce", eur("0.20")), ("stock", eur("2.00")),
    ]  # fmt: skip
    (component,) = found.components
    assert (component.dish, component.used) == ("stock", eur("2.80"))
    (line,) = sheet(found, "soup").lines
    assert (line.dish, line.name, line.need) == ("stock", "our Stock", "300\u00a0ml")


def test_whole_batches_are_paid_by_those_who_wanted_them() -> None:
    stock = dish(
        "stock", buy("1 kg carrots", "carrots", amount(1, "kg")), serves=None, makes=amount(1, "l"), whole_batches=True,
        larder=stocked(),
    )  # fmt: skip
    soup = dish("soup", our("300 ml our stock", "stock", "stock", amount(300, "ml")))
    sauce = dish("sauce", our("100 ml our stock", "stock", "stock", amount(100, "ml")))
    found = of(soup, sauce, stock, prices=(CARROTS,), guests=4)
    assert found.used == eur("4.00")
    assert sum(one.used.value for one in found.dishes) == Decimal("4.00")


def test_the_shares_add_up_to_the_coin() -> None:
    three = tuple(roots(f"d{place}", 100) for place in range(3))
    found = of(*three, prices=(price("carrot", amount(300, "g"), "1.00"),), guests=4)
    assert found.used == eur("1.00")
    assert sorted(one.used.value for one in found.dishes) == [Decimal("0.33"), Decimal("0.33"), Decimal("0.34")]


@pytest.mark.parametrize(
    ("marks", "why"),
    [
        (buy("50 g dust", "wonder dust", amount(50, "g")), Uncosted.NO_PRICE),
        (buy("salt, to taste", "salt", flags=(Flag.TO_TASTE,)), Uncosted.NO_AMOUNT),
        (buy("9 ml oil", "oil", amount(9, "ml")), Uncosted.ON_HAND),
    ],
)
def test_a_line_without_a_cost_says_why(marks: object, why: Uncosted) -> None:
    made = dish("d", marks, buy("1 kg carrots", "carrots", amount(1, "kg")), larder=stocked())  # type: ignore[arg-type]
    found = of(made, prices=(CARROTS, price("salt", amount(1, "kg"), "1.00")), guests=4, on_hand=("oil",))
    first = sheet(found, "d").lines[0]
    assert (first.cost, first.why) == (None, why)
    assert found.at_least == sheet(found, "d").at_least == (why is not Uncosted.ON_HAND)


def test_what_is_unknown_in_a_component_is_unknown_in_the_dish() -> None:
    stock = dish("stock", buy("50 g dust", "wonder dust", amount(50, "g")), serves=None, makes=amount(1, "l"))
    soup = dish("soup", our("300 ml our stock", "stock", "stock", amount(300, "ml")))
    other = roots()
    found = of(soup, other, stock, prices=(CARROTS,), guests=4)
    assert sheet(found, "soup").at_least
    assert not sheet(found, "roots").at_least
    assert found.unpriced == ("wonder dust",)


def test_the_seasoning_allowance_covers_what_has_no_amount() -> None:
    salted = dish(
        "d", buy("salt, to taste", "salt", flags=(Flag.TO_TASTE,)), buy("1 kg carrots", "carrots", amount(1, "kg")),
        larder=stocked(),
    )  # fmt: skip
    prices = (CARROTS, price("salt", amount(1, "kg"), "1.00"))
    made = book([salted], [event("supper", Ordered("d"), guests=4)], prices, Settings(seasoning=Fraction(5, 100)))
    found = costed(made)
    assert (found.used, found.seasoning, found.total) == (eur("2.00"), eur("0.10"), eur("2.10"))
    assert found.per_guest == eur("0.53")
    assert found.dishes[0].lines[0].why is Uncosted.SEASONING
    assert not found.at_least
    # It is paid at the till all the same: a whole pack of salt.
    assert found.till == eur("3.00")


def with_money(made: Event, budget: str, menu: str, currency: str = "EUR") -> Event:
    return replace(made, budget=Money(Decimal(budget), currency), price=Money(Decimal(menu), currency))


def test_budget_is_held_against_the_till_and_food_cost_against_the_menu() -> None:
    one = with_money(event("supper", Ordered("roots"), guests=4), "1.50", "1.00")
    found = costed(book([roots()], [one], (CARROTS,)))
    assert (found.budget, found.left) == (eur("1.50"), eur("-0.50"))
    assert found.food_cost == Fraction(1, 5)


def test_a_menu_price_of_a_dish_gives_its_food_cost() -> None:
    made = replace(roots(), price=eur("2.50"))
    found = cost_dish(book([made], (), (CARROTS,)), stocked(), Ask("roots", Fraction(8)))
    assert (found.title, found.guests, found.price) == ("Roots", None, eur("2.50"))
    assert (found.used, found.till, found.per_guest) == (eur("1.60"), eur("2.00"), eur("0.20"))
    assert found.food_cost == found.dishes[0].food_cost == Fraction(2, 25)
    assert found.dishes[0].per_plate == eur("0.20")


def test_the_till_is_told_by_the_dearest_first_and_the_unpriced_last() -> None:
    made = dish(
        "d", buy("50 g dust", "wonder dust", amount(50, "g")), buy("1 kg carrots", "carrots", amount(1, "kg")),
        buy("100 ml oil", "oil", amount(100, "ml")), larder=stocked(),
    )  # fmt: skip
    found = of(made, prices=(CARROTS, price("oil", amount(500, "ml"), "6.00")), guests=4)
    assert [(item.name, item.part) for item in found.items] == [
        ("oil", Fraction(3, 4)), ("carrots", Fraction(1, 4)), ("wonder dust", 0),
    ]  # fmt: skip
    assert [item.till for item in found.items] == [eur("6.00"), eur("2.00"), None]
    assert sum(item.used.value for item in found.items if item.used) == found.used.value == Decimal("3.20")


def test_no_such_event_or_dish() -> None:
    with pytest.raises(KeyError):
        costed(book([roots()]))
    with pytest.raises(KeyError):
        cost_dish(book([roots()]), stocked(), Ask("soup"))


# ---------------------------------------------------------------- coins


def test_shares_are_whole_coins() -> None:
    third = Fraction(1, 3)
    assert share_out(Decimal("1.00"), (third, third, third), "EUR") == (
        Decimal("0.34"),
        Decimal("0.33"),
        Decimal("0.33"),
    )
    assert share_out(Decimal("100"), (third, third, third), "JPY") == (34, 33, 33)
    assert share_out(Decimal("0.00"), (third, third), "EUR") == (0, 0)
    assert share_out(Decimal("5.00"), (Fraction(0), Fraction(0)), "EUR") == (0, 0)
    with pytest.raises(ValueError):
        share_out(Decimal("1.005"), (third,), "EUR")
    with pytest.raises(ValueError):
        share_out(Decimal("1.00"), (-third,), "EUR")


def test_money_is_rounded_to_the_least_coin_halves_up() -> None:
    assert to_minor(Fraction(5, 1000), "EUR") == Decimal("0.01")
    assert to_minor(Fraction(2, 3), "JPY") == Decimal("1")
    assert str(to_minor(Fraction(1, 3), "KWD")) == "0.333"


def test_money_in_the_words_of_the_language() -> None:
    said = [
        money_words(Decimal(value), currency, language).replace("\u00a0", " ").replace("\u202f", " ")
        for value, currency, language in (
            ("12.4", "GBP", "en"), ("12.405", "GBP", "en"), ("12", "JPY", "en"), ("3", "CHF", "en"),
            ("1234.5", "EUR", "de"), ("1234.5", "EUR", "fr"), ("-2", "EUR", "en"), ("1", "GBP", "xx-unknown"),
        )
    ]  # fmt: skip
    assert said == ["£12.40", "£12.405", "¥12", "CHF 3.00", "1.234,50 €", "1 234,50 €", "-€2.00", "£1.00"]


def test_parts_in_the_words_of_the_language() -> None:
    assert percent_words(Fraction(244, 1000)) == "24.4%"
    assert percent_words(Fraction(1)) == "100%"
    assert percent_words(Fraction(1, 3), "de").replace("\u00a0", " ") == "33,3 %"

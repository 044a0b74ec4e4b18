"""The market list: exact sums, one line a thing, packs and totals."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal
from fractions import Fraction

import pytest

from recipec.emit.market_text import market_text
from recipec.measure.quantity import Amount, quantity
from recipec.measure.show import Style
from recipec.measure.units import unit
from recipec.model.dish import Dish, Flag
from recipec.model.prices import Money, Price
from recipec.plan.market import market
from recipec.plan.market_types import Market, MarketLine
from tests.changed import replace
from tests.plan.make import Mark, Ordered, amount, book, buy, dish, event, our, price, stocked, used_up


def shop(*dishes: Dish, prices: tuple[Price, ...] = (), on_hand: tuple[str, ...] = (), guests: int = 4) -> Market:
    supper = event("supper", *(Ordered(one.key) for one in dishes), guests=guests, on_hand=on_hand)
    return market(book(dishes, [supper], prices), stocked(), ["supper"])


def line(found: Market, item: str) -> MarketLine:
    return next(one for one in (*found.lines, *found.on_hand) if one.item == item)


def made_of(*marks: Mark, key: str = "plate") -> Dish:
    return dish(key, *marks, larder=stocked())


def test_a_third_of_a_cup_three_times_is_one_cup() -> None:
    cup = buy("1/3 cup milk", "milk", amount("1/3", "us_cup"))
    found = shop(*(made_of(cup, key=f"d{n}") for n in range(3)))
    assert line(found, "milk").need == (amount(1, "us_cup"),)
    assert [asked.dish for asked in line(found, "milk").asked_by] == ["d0", "d1", "d2"]


def test_ranges_buy_the_upper_end() -> None:
    assert line(shop(made_of(buy("2-3 carrots", "carrots", amount(2, high=3)))), "carrot").need == (amount(3),)


def test_one_thing_under_two_names_is_one_line() -> None:
    found = shop(made_of(buy("1 egg", "egg", amount(1)), buy("2 eggs", "eggs", amount(2))))
    assert [one.item for one in found.lines] == ["egg"]
    assert line(found, "egg").need == (amount(3),)


def test_zest_of_two_and_juice_of_one_is_two_lemons() -> None:
    zest = buy("zest of 2 lemons", "lemons", amount(2), part="zest")
    juice = buy("juice of 1 lemon", "lemon", amount(1), part="juice")
    assert line(shop(made_of(zest, juice)), "lemon").need == (amount(2),)


def test_a_zested_lemon_still_gives_its_juice_and_whole_ones_come_on_top() -> None:
    marks = (
        buy("zest of 1 lemon", "lemon", amount(1), part="zest"),
        buy("45 ml lemon juice", "lemon juice", amount(45, "ml"), part="juice", item="lemon"),
        buy("1 lemon", "lemon", amount(1)),
    )
    assert line(shop(made_of(*marks)), "lemon").need == (amount(2),)


def test_juice_by_volume_counts_by_its_own_density_only() -> None:
    lime = buy("50 ml lime juice", "lime juice", amount(50, "ml"), part="juice", item="lime")
    found = line(shop(made_of(lime)), "lime").need
    # 242 g a cup, 44 g a lime: SR28 09160, as the larder has it.
    assert found == (amount(Fraction(50) * 242 / (amount(1, "us_cup").terms[0].base_high * 44)),)
    sap = buy("50 ml carrot juice", "carrot juice", amount(50, "ml"), part="juice", item="carrot")
    alone = line(shop(made_of(sap)), "carrot juice")
    assert (alone.name, alone.department, alone.need) == ("carrot juice", "produce", (amount(50, "ml"),))


def test_water_comes_from_the_tap() -> None:
    found = shop(made_of(buy("1 l water", "water", amount(1, "l"))))
    assert (found.lines, [one.item for one in found.on_hand]) == ((), ["water"])


def test_whites_of_three_and_yolks_of_two_are_three_eggs() -> None:
    marks = (
        buy("whites of 3 eggs", "eggs", amount(3), part="white"),
        buy("yolks of 2 eggs", "eggs", amount(2), part="yolk"),
    )
    assert line(shop(made_of(*marks)), "egg").need == (amount(3),)


def test_parts_are_not_shared_past_their_keeping_time() -> None:
    cake = made_of(buy("zest of 1 lemon", "lemon", amount(1), part="zest"), key="cake")
    tart = made_of(buy("juice of 1 lemon", "lemon", amount(1), part="juice"), key="tart")
    monday = event("monday", Ordered("cake"), guests=4, serve=datetime(2026, 9, 7, 19))
    tuesday = event("tuesday", Ordered("tart"), guests=4, serve=datetime(2026, 9, 8, 19))
    saturday = event("saturday", Ordered("tart"), guests=4, serve=datetime(2026, 9, 12, 19))
    both = book([cake, tart], [monday, tuesday, saturday])
    assert line(market(both, stocked(), ["monday", "tuesday"]), "lemon").need == (amount(1),)
    assert line(market(both, stocked(), ["monday", "saturday"]), "lemon").need == (amount(2),)


def test_grams_and_pieces_add_up_through_the_weight_each() -> None:
    found = shop(made_of(buy("500 g carrots", "carrots", amount(500, "g")), buy("2 carrots", "carrots", amount(2))))
    assert line(found, "carrot").need == (amount(620, "g"),)


def test_volume_joins_weight_by_density_and_stays_apart_without() -> None:
    flour = made_of(buy("300 g flour", "flour", amount(300, "g")), buy("1 cup flour", "flour", amount(1, "us_cup")))
    assert line(shop(flour), "flour").need == (amount(425, "g"),)  # 125 g a cup: SR28 20081, as the larder has it
    oil = made_of(buy("200 g oil", "oil", amount(200, "g")), buy("2 tbsp oil", "oil", amount(2, "metric_tbsp")))
    assert line(shop(oil), "oil").need == (amount(200, "g"), amount(2, "metric_tbsp"))
    assert " + " in line(shop(oil), "oil").need_text


def test_what_is_asked_for_by_the_spoon_and_sold_by_weight_is_listed_by_weight() -> None:
    one = made_of(buy("2 cups flour", "flour", amount(2, "us_cup")))
    assert line(shop(one), "flour").need == (amount(2, "us_cup"),)
    found = line(shop(one, prices=(price("flour", amount("1.5", "kg"), "2"),)), "flour")
    assert found.need == (amount(250, "g"),)  # 125 g a cup: SR28 20081, as the larder has it
    assert found.surplus == amount("1.25", "kg")


def needs(found: Market) -> list[str]:
    return [f"{part.need_text} {part.name}".replace("\u00a0", " ") for part in found.lines]


def test_a_list_is_shown_as_the_book_shows_amounts() -> None:
    one = made_of(
        buy("900 g carrots", "carrots", amount(900, "g")),
        buy("400 ml milk", "milk", amount(400, "ml")),
        buy("3 cups buttermilk", "buttermilk", amount(3, "us_cup")),
    )
    # Whose cups an event measures by says nothing of what is written in grams.
    supper = replace(event("supper", Ordered("plate"), guests=4), measures="us")

    def shown(style: Style) -> list[str]:
        return needs(market(book([one], [supper]), stocked(), ["supper"], style))

    assert shown(Style()) == ["900 g carrots", "3 cups buttermilk", "400 ml milk"]
    assert shown(Style("us")) == ["2 lb carrots", "3 cups buttermilk", "1¾ cups milk"]
    assert shown(Style("metric")) == ["900 g carrots", "710 ml buttermilk", "400 ml milk"]


def test_what_is_left_is_said_in_the_measure_of_the_pack() -> None:
    one = made_of(
        buy("500 g butter", "butter", amount(500, "g")),
        buy("3 bunches mint", "mint", amount("3/4", "bunch")),
        buy("1 bunch thyme", "thyme", amount("29/30", "bunch")),
        buy("2 eggs", "eggs", amount(2)),
    )
    prices = (
        price("butter", amount(1, "lb"), "4"),
        price("mint", amount(1, "bunch"), "1"),
        price("thyme", amount(1, "bunch"), "1"),
        price("egg", amount(6), "2"),
    )
    supper = event("supper", Ordered("plate"), guests=4)
    found = market(book([one], [supper], prices), stocked(), ["supper"], Style("metric"))
    left = {part.item: part.surplus_text.replace("\u00a0", " ") for part in found.lines}
    assert left == {"butter": "14½ oz", "mint": "some of it", "thyme": "", "egg": "4"}
    assert line(found, "thyme").surplus == amount("1/30", "bunch")


def test_names_are_the_cooks_own() -> None:
    one = made_of(
        buy("2 waxy potatoes", "waxy potatoes", amount(2)),
        buy("100 g unsalted butter", "unsalted butter", amount(100, "g")),
        buy("1 handful flat-leaf parsley", "flat-leaf parsley", amount(1, "handful")),
        buy(
            "20 g chopped toasted hazelnuts",
            "chopped toasted hazelnuts",
            amount(20, "g"),
            before=("chopped", "toasted"),
        ),
        buy("1 egg yolk", "egg yolk", amount(1), part="yolk", item="egg"),
        buy("1 brown onion", "brown onion", amount(1)),
    )
    two = made_of(buy("1 onion", "onion", amount(1)), buy("3 onions", "onions", amount(3)), key="two")
    found = shop(one, two)
    assert needs(found) == [
        "a handful flat-leaf parsley",
        "5 onions",
        "2 waxy potatoes",
        "1 egg",
        "100 g unsalted butter",
        "20 g hazelnuts",
    ]
    assert [asked.text for asked in line(found, "onion").asked_by] == ["1, as brown onion", "1", "3"]
    assert "[ ] a handful of flat-leaf parsley" in market_text(found)


@pytest.mark.parametrize(
    ("name", "much", "pack", "said"),
    [
        ("celeriac", amount(1), amount(1, "kg"), "1 celeriac"),
        ("celeriac", amount("450", "g"), None, "450 g celeriac"),
        ("walnut half", amount(12), None, "12 walnut halves"),
        ("potato", amount(9), None, "9 potatoes"),
        ("double cream", amount(1, "l"), None, "1 l double cream"),
    ],
)
def test_the_number_of_a_name(name: str, much: Amount, pack: Amount | None, said: str) -> None:
    prices = () if pack is None else (price(name, pack, "1"),)
    assert needs(shop(made_of(buy("it", name, much)), prices=prices)) == [said]


def test_two_large_eggs_and_three_eggs_are_five_eggs() -> None:
    found = shop(made_of(buy("2 large eggs", "eggs", amount(2, size="large")), buy("3 eggs", "eggs", amount(3))))
    assert line(found, "egg").need == (amount(5),)


def test_tins_of_one_size_stay_tins() -> None:
    tin = quantity(400, unit("g"))
    mark = buy("2 tins (400 g) plum tomatoes", "plum tomatoes", amount(2, "tin", each=tin))
    found = shop(made_of(mark), guests=8)
    assert [one.need for one in found.lines] == [(amount(4, "tin", each=tin),)]
    assert found.lines[0].need_text.replace("\u00a0", " ") == "4 tins (400 g each)"


def test_trimmed_before_weighing_buys_more() -> None:
    found = shop(made_of(buy("400 g peeled squash", "peeled squash", amount(400, "g"), before=("peeled",))))
    assert line(found, "squash").need == (amount(500, "g"),)
    assert line(found, "squash").asked_by[0].amount == amount(400, "g")


def test_to_taste_reaches_the_list() -> None:
    found = shop(made_of(buy("salt, to taste", "salt", flags=(Flag.TO_TASTE,))))
    assert line(found, "salt").need == ()
    assert [asked.text for asked in line(found, "salt").unmeasured] == ["to taste"]
    assert found.at_least


def test_optional_food_is_bought_and_the_first_choice_counts() -> None:
    mark = buy(
        "1 carrot or 1 egg, optional", "carrot", amount(1), flags=(Flag.OPTIONAL,), choices=(buy("", "egg", amount(1)),)
    )
    found = shop(made_of(mark))
    assert [(one.item, one.instead) for one in found.lines] == [("carrot", ("egg",))]


def test_departments_come_in_the_order_of_the_shop_and_supplies_last() -> None:
    marks = [buy(name, name, amount(1, "kg")) for name in ("salt", "eggs", "nonesuch", "carrots")]
    one = dish("plate", *marks, gear=[used_up("ice", amount(5, "kg"))], larder=stocked())
    found = shop(one, guests=8)
    assert [part.department for part in found.lines] == ["produce", "dairy and eggs", "spices", "other", "supplies"]
    assert found.lines[-1].need == (amount(10, "kg"),)


def test_on_hand_is_listed_apart_and_not_bought() -> None:
    marks = (buy("1 kg carrots", "carrots", amount(1, "kg")), buy("5 g salt", "salt", amount(5, "g")))
    found = shop(made_of(*marks), on_hand=("Salt",), prices=(price("salt", amount(500, "g"), "1"),))
    assert [one.item for one in found.lines] == ["carrot"]
    assert [(one.item, one.buy, one.price) for one in found.on_hand] == [("salt", (), None)]
    assert found.unpriced == ("carrots",)


def test_on_hand_for_one_event_is_bought_for_the_other() -> None:
    one = made_of(buy("5 g salt", "salt", amount(5, "g")))
    with_salt = event("a", Ordered("plate"), guests=4, on_hand=("salt",))
    without = event("b", Ordered("plate"), guests=4)
    assert [part.item for part in market(book([one], [with_salt, without]), stocked(), ["a", "b"]).lines] == ["salt"]


def test_packs_used_and_till() -> None:
    one = made_of(buy("600 g carrots", "carrots", amount(600, "g")), buy("5 eggs", "eggs", amount(5)))
    prices = (
        price("carrot", amount(500, "g"), "1.50"),
        price("carrot", amount(1, "kg"), "2.40", "Corner Greens"),
        price("egg", amount(6), "2.70"),
        price("carrot", amount(1, "kg"), "0.10", currency="USD"),
    )
    found = shop(one, prices=prices)
    carrots = line(found, "carrot")
    assert [(buy.count, buy.shop, buy.price) for buy in carrots.buy] == [
        (1, "Corner Greens", Money(Decimal("2.40"), "EUR"))
    ]
    assert carrots.surplus == amount("2/5", "kg")
    assert found.till == Money(Decimal("5.10"), "EUR")
    assert found.used == Money(Decimal("3.69"), "EUR")  # 2.40 x 600/1000 + 2.70 x 5/6
    assert not found.at_least


def test_tins_are_bought_by_what_they_hold() -> None:
    tin = quantity(400, unit("g"))
    one = made_of(buy("600 g plum tomatoes", "plum tomatoes", amount(600, "g")))
    key = shop(one).lines[0].item
    found = shop(one, prices=(price(key, amount(1, "tin", each=tin), "1.10"),))
    assert [buy.count for buy in found.lines[0].buy] == [2]
    assert found.lines[0].surplus == amount(200, "g")


def test_unknown_prices_are_listed_and_totals_say_at_least() -> None:
    marks = (buy("600 g carrots", "carrots", amount(600, "g")), buy("5 eggs", "eggs", amount(5)))
    found = shop(made_of(*marks), prices=(price("egg", amount(6), "2.70"),))
    assert found.unpriced == ("carrots",)
    assert found.at_least
    assert found.till == Money(Decimal("2.70"), "EUR")
    nothing = shop(made_of(*marks))
    assert (nothing.till, nothing.used) == (None, None)


def test_through_our_dishes() -> None:
    stock = dish(
        "stock", buy("1 kg carrots", "carrots", amount(1, "kg")), serves=None, makes=amount(1, "l"), larder=stocked()
    )
    soup = dish("soup", our("1/2 l our stock", "stock", "stock", amount("1/2", "l")))
    supper = event("supper", Ordered("soup"), guests=8)
    found = market(book([stock, soup], [supper]), stocked(), ["supper"])
    assert found.lines[0].need == (amount(1, "kg"),)
    asked = found.lines[0].asked_by[0]
    assert (asked.dish, asked.factor, asked.span.text) == ("stock", Fraction(1), "[1 kg carrots]")


def test_an_unknown_event_is_the_callers_mistake() -> None:
    with pytest.raises(KeyError):
        market(book([]), stocked(), ["nonesuch"])

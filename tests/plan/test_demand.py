"""Demand through dishes made of dishes: summed first, batched once, in an order in which it can be made."""

from __future__ import annotations

from fractions import Fraction

from recipec.model.dish import Dish
from recipec.plan.demand import Ask, Demand, demand, orders_of
from tests.plan.make import Ordered, amount, book, buy, dish, event, our, stocked


def reckon(dishes: list[Dish], *asks: Ask) -> Demand:
    return demand(book(dishes), stocked(), asks)


def factors(found: Demand) -> dict[tuple[str, tuple[str, ...]], Fraction]:
    return {(run.dish.key, run.without): run.factor for run in found.runs}


STOCK = dish("stock", buy("1 kg carrots", "carrots", amount(1, "kg")), serves=None, makes=amount(1, "l"))
SAUCE = dish("sauce", our("300 ml our stock", "stock", "stock", amount(300, "ml")), serves=4)
SOUP = dish("soup", our("1.5 l our stock", "stock", "stock", amount("1.5", "l")), serves=6)


def test_demand_of_a_shared_dish_is_summed_and_made_once() -> None:
    found = reckon([STOCK, SAUCE, SOUP], Ask("sauce", Fraction(8)), Ask("soup", Fraction(4)))
    assert factors(found) == {("stock", ()): Fraction(8, 5), ("sauce", ()): Fraction(2), ("soup", ()): Fraction(2, 3)}
    assert found.problems == ()


def test_what_a_dish_is_made_of_comes_before_it() -> None:
    keys = [run.dish.key for run in reckon([STOCK, SAUCE, SOUP], Ask("sauce"), Ask("soup")).runs]
    assert keys.index("stock") < min(keys.index("sauce"), keys.index("soup"))


def test_whole_batches_round_up_after_the_sum_and_show_what_is_over() -> None:
    bread = dish("bread", serves=None, makes=amount(2, "loaf"), whole_batches=True)
    toast = dish("toast", our("1/2 loaf our bread", "bread", "bread", amount("1/2", "loaf")), serves=2)
    run = reckon([bread, toast], Ask("toast", Fraction(6)), Ask("toast", Fraction(4))).runs[0]
    assert (run.dish.key, run.factor, run.surplus) == ("bread", Fraction(2), Fraction(3, 4))


def test_our_dish_without_an_amount_is_one_yield_scaled_with_the_dish() -> None:
    pie = dish("pie", our("our stock", "stock", "stock"), serves=4)
    assert factors(reckon([STOCK, pie], Ask("pie", Fraction(12))))[("stock", ())] == 3


def test_a_circle_does_not_loop() -> None:
    one = dish("one", our("our two", "two", "two"))
    two = dish("two", our("our one", "one", "one"))
    assert {run.dish.key for run in reckon([one, two], Ask("one")).runs} == {"one", "two"}


def test_a_long_chain_is_no_matter() -> None:
    chain = [dish(f"d{n}", our(f"our d{n + 1}", f"d{n + 1}", f"d{n + 1}")) for n in range(3000)]
    chain.append(dish("d3000", buy("1 g salt", "salt", amount(1, "g"))))
    assert len(reckon(chain, Ask("d0")).runs) == 3001


def test_an_order_without_number_is_a_plate_for_everyone() -> None:
    asks = orders_of(event("supper", Ordered("soup"), guests=8, children=2, spare=1))
    assert [ask.plates for ask in asks] == [Fraction(8)]  # 6 grown, 2 half plates, 1 spare


def test_seats_served_apart_are_not_served_twice() -> None:
    asks = orders_of(event("supper", Ordered("soup"), Ordered("soup", without=("egg",), seats=(3, 6)), guests=8))
    assert [(ask.plates, ask.without) for ask in asks] == [(Fraction(6), ()), (Fraction(2), ("egg",))]


def test_what_is_left_out_is_left_out_of_those_plates_and_their_batches_only() -> None:
    base = dish("base", buy("4 carrots", "carrots", amount(4)), serves=None, makes=amount(1, "l"))
    eggs, milk = buy("2 eggs", "eggs", amount(2)), buy("1 kg milk", "milk", amount(1, "kg"))
    cream = dish("cream", eggs, milk, serves=None, makes=amount(1, "l"))
    plate = dish(
        "plate",
        our("1 l our base", "base", "base", amount(1, "l")),
        our("1 l our cream", "cream", "cream", amount(1, "l")),
        serves=4,
        larder=stocked(),
    )
    found = reckon([base, cream, plate], Ask("plate", Fraction(4)), Ask("plate", Fraction(2), without=("eggs",)))
    assert factors(found) == {
        ("base", ()): Fraction(3, 2),
        ("cream", ()): Fraction(1),
        ("cream", ("eggs",)): Fraction(1, 2),
        ("plate", ()): Fraction(1),
        ("plate", ("eggs",)): Fraction(1, 2),
    }
    apart = next(run for run in found.runs if run.without and run.dish.key == "cream")
    assert [use.name for use in apart.bought] == ["milk"]


def test_a_dish_that_is_made_from_what_is_left_out_goes_with_it() -> None:
    cream = dish("cream", buy("2 eggs", "eggs", amount(2)), serves=None, makes=amount(1, "l"))
    plate = dish("plate", our("1 l our cream", "cream", "cream"), buy("1 kg milk", "milk", amount(1, "kg")))
    found = reckon([cream, plate], Ask("plate", Fraction(2), without=("eggs",)))
    assert [(run.dish.key, run.without) for run in found.runs] == [("plate", ("eggs",))]
    assert [use.name for use in found.runs[0].bought] == ["milk"]
    assert found.runs[0].draws == ()


def test_leaving_out_the_first_choice_takes_the_second() -> None:
    mark = buy("50 ml milk or 50 ml oil", "milk", amount(50, "ml"), choices=(buy("", "oil", amount(50, "ml")),))
    run = reckon([dish("sauce", mark, larder=stocked())], Ask("sauce", Fraction(4), without=("milk",))).runs[0]
    assert [use.name for use in run.bought] == ["oil"]


def test_what_cannot_be_reckoned_is_said_and_made_once() -> None:
    found = reckon([dish("loose", serves=None)], Ask("loose", Fraction(5)))
    assert factors(found) == {("loose", ()): Fraction(1)}
    assert found.problems == ("Loose is reckoned as written once: the dish does not say how many it serves.",)


def test_leaving_out_both_choices_leaves_out_both_wherever_they_stand() -> None:
    mark = buy("50 ml milk or 50 ml oil", "milk", amount(50, "ml"), choices=(buy("", "oil", amount(50, "ml")),))
    cream = dish("cream", mark, serves=4, larder=stocked())
    tart = dish("tart", our("our cream", "cream", "cream"), buy("1 egg", "egg", amount(1)), larder=stocked())
    found = reckon([cream, tart], Ask("tart", Fraction(4), without=("milk", "oil")), Ask("tart", Fraction(4)))
    assert [use.name for run in found.runs if run.without for use in run.bought] == ["egg"]
    # What bars nothing makes no version: milk counts, so leaving out oil changes no dish.
    found = reckon([cream, tart], Ask("tart", Fraction(4), without=("oil",)), Ask("tart", Fraction(4)))
    assert factors(found) == {("cream", ()): 2, ("tart", ()): 2}


def test_a_chosen_alternative_counts_unless_it_is_left_out() -> None:
    mark = buy("50 ml milk or 50 ml oil", "milk", amount(50, "ml"), choices=(buy("", "oil", amount(50, "ml")),))
    sauce = dish("sauce", mark, larder=stocked())
    asks = (Ask("sauce", Fraction(4)), Ask("sauce", Fraction(2), without=("oil",)))
    found = demand(book([sauce]), stocked(), asks, {("sauce", 0): 1})
    assert {run.without: [use.name for use in run.bought] for run in found.runs} == {(): ["oil"], ("oil",): ["milk"]}


def test_a_chosen_dish_brings_its_own_foods_and_the_other_is_not_made() -> None:
    mark = our("our stock", "stock", "stock", amount(1, "l"), choices=(our("", "broth", "", amount(1, "l")),))
    broth = dish("broth", buy("2 eggs", "eggs", amount(2)), serves=None, makes=amount(1, "l"), larder=stocked())
    plate = dish("plate", mark)
    found = demand(book([STOCK, broth, plate]), stocked(), (Ask("plate", Fraction(4)),), {("plate", 0): 1})
    assert [run.dish.key for run in found.runs] == ["broth", "plate"]

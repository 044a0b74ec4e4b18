"""The packs that are bought, held to every combination there is. All prices are invented."""

from __future__ import annotations

import itertools
import math
import random
import subprocess
import sys
from dataclasses import dataclass
from fractions import Fraction

import pytest

from recipec.measure.quantity import Amount, Quantity, quantity
from recipec.measure.units import unit
from recipec.model.prices import Price
from recipec.plan.packs import Purchase, Thing, purchases
from recipec.plan.packs_search import Covering, Row, program, searched, solved, worth_looking_at
from tests.plan.make import amount, price

SHOPS = ("Corner Greens", "Quay Stores", "Stall, west gate")


def unweighed(_: Quantity) -> Fraction | None:
    return None


def weighed(found: Quantity) -> Fraction | None:
    """A thing of which a bunch weighs 90 g, and a millilitre 7/8 g."""
    rates = {"mass": Fraction(1), "volume": Fraction(7, 8), "bunch": Fraction(90)}
    rate = rates.get(found.unit.kind)
    return None if rate is None else found.base_high * rate


def bought(found: Purchase) -> list[tuple[str, str, int]]:
    return [(str(choice.price.price.value), choice.price.shop, choice.count) for choice in found.choices]


def one(need: tuple[Amount, ...], *prices: Price) -> Purchase:
    return purchases([Thing(need, prices, unweighed)])[0]


# ------------------------------------------------------------ against every combination


@dataclass(frozen=True)
class Best:
    counts: tuple[int, ...]
    cost: Fraction
    bought: Fraction


def every_combination(need: Fraction, rows: list[tuple[Fraction, Fraction]]) -> Best:
    """Least cost, then fewest packs, then least of it, then most of the first row, of the second ..., by trying them all."""
    scale = math.lcm(need.denominator, *(part.denominator for row in rows for part in row))
    least, whole = int(need * scale), [(int(paid * scale), int(size * scale)) for paid, size in rows]
    best: tuple[int, int, int, tuple[int, ...]] | None = None
    for counts in itertools.product(*(range(math.ceil(need / size) + 1) for _, size in rows)):
        total = sum(count * size for count, (_, size) in zip(counts, whole, strict=True))
        if total >= least:
            cost = sum(count * paid for count, (paid, _) in zip(counts, whole, strict=True))
            answer = (cost, sum(counts), total, tuple(-count for count in counts))
            best = answer if best is None or answer < best else best
    assert best is not None
    return Best(tuple(-count for count in best[3]), Fraction(best[0], scale), Fraction(best[2], scale))


def cases(number: int, seed: int) -> list[tuple[Fraction, list[tuple[str, Fraction, str]]]]:
    """Needs in grams and rows of (price, grams, shop): few sizes and round prices, so that ties are many."""
    chance = random.Random(seed)
    found = []
    for _ in range(number):
        need = Fraction(chance.randint(1, 2400), chance.choice([1, 1, 1, 3, 7]))
        rows = []
        for _ in range(chance.randint(1, 4)):
            grams = Fraction(
                chance.choice([150, 200, 250, 250, 400, 500, 500, 750, 1000]), chance.choice([1, 1, 1, 1, 3])
            )
            fair = int(grams) * chance.randint(80, 125) // 200
            paid = chance.choice(
                ["1", "1.5", "2", "2.5", f"{fair / 100:.2f}", f"{fair / 100:.2f}", f"{fair / 100:.1f}"]
            )
            rows.append((paid, grams, chance.choice(SHOPS)))
        # Every combination must be tried within reason.
        if math.prod(math.ceil(need / grams) + 1 for _, grams, _ in rows) <= 3000:
            found.append((need, rows))
    return found


def test_two_thousand_needs_against_every_combination() -> None:
    chosen = cases(3200, 20)[:2000]
    assert len(chosen) == 2000
    things, wanted = [], []
    for need, rows in chosen:
        prices = [price("flour", amount(grams, "g"), paid, shop) for paid, grams, shop in rows]
        # By shop and place; rows of one place, as here, by their size and price.
        things.append(Thing((amount(need, "g"),), tuple(prices), unweighed))
        order = sorted(prices, key=lambda row: (row.shop, row.pack.terms[0].base_low, str(row.price.value)))
        wanted.append((order, need))
    ties = 0
    for purchase, (order, need) in zip(purchases(things), wanted, strict=True):
        sizes = [(Fraction(row.price.value), row.pack.terms[0].base_low) for row in order]
        best = every_combination(need, sizes)
        assert purchase.till == best.cost
        assert sum(choice.count for choice in purchase.choices) == sum(best.counts)
        assert [(c.price.price, c.price.shop, c.count) for c in purchase.choices] == [
            (row.price, row.shop, count) for row, count in zip(order, best.counts, strict=True) if count
        ]
        assert purchase.used == best.cost * need / best.bought
        left = purchase.surplus.terms[0].base_low if purchase.surplus is not None else 0
        assert left == best.bought - need
        ties += len(purchase.choices) > 1
    assert ties > 200, "too few of the cases mix packs"


def test_the_search_without_the_solver_agrees_with_every_combination() -> None:
    for need, rows in cases(600, 21):
        sizes = [(Fraction(paid), grams) for paid, grams, _ in rows]
        places = tuple(Row(place, paid, grams) for place, (paid, grams) in enumerate(sizes))
        covering = Covering(0, (need,), places)
        assert searched(program(covering, places)) == every_combination(need, sizes).counts
        assert solved([covering]) == [every_combination(need, sizes).counts]


def shared_best(needs: tuple[Fraction, Fraction], rows: list[Row]) -> tuple[Fraction, int, Fraction, tuple[int, ...]]:
    """Two needs, packs for one, the other or both. What is missing after the packs of its own must come from those of both."""
    tries = itertools.product(*(range(math.ceil(sum(needs) / row.size) + 1) for row in rows))
    answers = []
    for counts in tries:
        got = [
            sum((n * row.size for n, row in zip(counts, rows, strict=True) if row.serves == serves), Fraction(0))
            for serves in (1, 2, 3)
        ]
        missing = max(needs[0] - got[0], Fraction(0)) + max(needs[1] - got[1], Fraction(0))
        if missing <= got[2]:
            cost = sum((n * row.cost for n, row in zip(counts, rows, strict=True)), Fraction(0))
            answers.append((cost, sum(counts), sum(got, Fraction(0)), tuple(-n for n in counts)))
    return min(answers)


def test_needs_that_share_packs_against_every_combination() -> None:
    chance = random.Random(22)
    for _ in range(300):
        needs = (Fraction(chance.randint(1, 9), 2), Fraction(chance.randint(1, 9), 3))
        serves = [1, 2, *(chance.choice([1, 2, 3, 3]) for _ in range(chance.randint(0, 2)))]
        rows = [
            Row(place, Fraction(chance.randint(1, 12), 4), Fraction(chance.randint(2, 6), 2), bits)
            for place, bits in enumerate(serves)
        ]
        covering = Covering(0, needs, tuple(rows))
        best = shared_best(needs, rows)
        assert solved([covering]) == [tuple(-n for n in best[3])]
        assert searched(program(covering, rows)) == tuple(-n for n in best[3])


# ------------------------------------------------------------ kinds of need


def test_packs_of_several_shops_are_mixed() -> None:
    found = one(
        (amount(1400, "g"),),
        price("flour", amount(1, "kg"), "2.00", "Corner Greens"),
        price("flour", amount(500, "g"), "0.90", "Quay Stores"),
        price("flour", amount(1500, "g"), "3.10", "Stall, west gate"),
    )
    assert bought(found) == [("0.90", "Quay Stores", 3)]
    assert found.surplus == amount(100, "g")
    assert found.used == Fraction("2.70") * Fraction(14, 15)
    found = one(
        (amount(1400, "g"),), price("flour", amount(1, "kg"), "2.00"), price("flour", amount(500, "g"), "1.20", "A")
    )
    assert bought(found) == [("1.20", "A", 1), ("2.00", "Quay Stores", 1)]
    assert found.till == Fraction("3.20")


def test_kinds_that_cannot_be_joined_are_covered_each() -> None:
    need = (amount(3, "bunch"), amount(200, "g"))
    bunch, grams = price("dill", amount(1, "bunch"), "1.10"), price("dill", amount(80, "g"), "2.00", "A")
    found = one(need, bunch, grams)
    assert bought(found) == [("2.00", "A", 3), ("1.10", "Quay Stores", 3)]
    assert found.surplus == amount(40, "g")
    assert found.used == Fraction("3.30") + 6 * Fraction(200, 240)
    assert one(need, bunch) == Purchase(choices=(), used=Fraction(0), surplus=None)


def test_a_pack_that_measures_both_kinds_serves_both() -> None:
    bunch = price("dill", amount(1, "bunch", each=quantity(50, unit("g"))), "1.00")
    found = one((amount("5/2", "bunch"), amount(75, "g")), bunch)
    assert bought(found) == [("1.00", "Quay Stores", 4)]
    assert (found.used, found.surplus) == (4, None)
    small = price("dill", amount(1, "bunch", each=quantity(30, unit("g"))), "1.00", "A")
    # Now nobody can say what a bunch is, so no pack is split: three bunches, and two of the larger for the grams.
    found = one((amount("5/2", "bunch"), amount(75, "g")), bunch, small)
    assert found.till == 5


def test_weight_and_volume_and_bunches_by_their_weight() -> None:
    thing = Thing(
        (amount(360, "g"),),
        (price("dill", amount(1, "bunch"), "1.00"), price("dill", amount(100, "g"), "1.30")),
        weighed,
    )
    found = purchases([thing])[0]
    assert bought(found) == [("1.00", "Quay Stores", 4)]
    mixed = Thing(
        (amount(400, "g"),),
        (price("dill", amount(1, "bunch"), "1.00"), price("dill", amount(50, "g"), "0.6", "A")),
        weighed,
    )
    found = purchases([mixed])[0]
    # Packs of two measures: what is left is said in that of the need.
    assert [(c.price.shop, c.count) for c in found.choices] == [("A", 1), ("Quay Stores", 4)]
    assert found.surplus == amount(10, "g")


@pytest.mark.parametrize("need", [(), (amount(0, "g"),)])
def test_a_need_of_no_amount_takes_the_cheapest_pack(need: tuple[Amount, ...]) -> None:
    found = one(need, price("salt", amount(1, "kg"), "2.00"), price("salt", amount(500, "g"), "1.20", "A"))
    assert bought(found) == [("1.20", "A", 1)]
    assert found.used == 0
    assert found.surplus == (amount(500, "g") if need else None)


def test_no_price_and_no_price_that_fits() -> None:
    assert one((amount(1, "g"),)).choices == ()
    assert one((amount(1, "g"),), price("salt", amount(1, "bunch"), "1")).choices == ()


def test_ranges_buy_for_the_upper_end_and_packs_give_the_lower() -> None:
    found = one((amount(300, "g", high=600),), price("x", amount(250, "g", high=300), "1"))
    assert bought(found) == [("1", "Quay Stores", 3)]


def test_the_order_of_the_price_book_never_shows() -> None:
    chance = random.Random(23)
    for need, rows in cases(100, 24):
        prices = [price("flour", amount(grams, "g"), paid, shop) for paid, grams, shop in rows]
        first = one((amount(need, "g"),), *prices)
        chance.shuffle(prices)
        assert one((amount(need, "g"),), *prices) == first


def test_a_tie_goes_to_fewer_packs_then_less_left_then_the_shop_then_the_place() -> None:
    kilo, half = price("x", amount(1, "kg"), "2"), price("x", amount(500, "g"), "1")
    assert bought(one((amount(1, "kg"),), half, kilo)) == [("2", "Quay Stores", 1)]
    larger = price("x", amount(1200, "g"), "2", "A")
    assert one((amount(1, "kg"),), larger, kilo).surplus is None
    assert bought(one((amount(1, "kg"),), kilo, kilo._replace(shop="A"))) == [("2", "A", 1)]


# ------------------------------------------------------------ numbers that no solver takes


def test_very_large_and_very_fine_numbers() -> None:
    need = Fraction(10**15) + Fraction(1, 3**9)
    rows = [price("x", amount(Fraction(10**6, 7), "g"), "3.01", "A"), price("x", amount(453, "lb"), "4321.99")]
    found = one((amount(need, "g"),), *rows)
    total = sum(c.count * c.price.pack.terms[0].base_low for c in found.choices)
    assert total >= need
    assert all(total - c.price.pack.terms[0].base_low < need for c in found.choices)
    covering = Covering(
        0, (need,), tuple(Row(n, Fraction(r.price.value), r.pack.terms[0].base_low) for n, r in enumerate(rows))
    )
    assert program(covering, covering.rows).largest() >= 1 << 60
    # Two rows: for each number of the dearer one, the cheaper fills up; past a few of it nothing gains.
    one_size, other = covering.rows[0], covering.rows[1]
    best = min(
        n * other.cost + one_size.cost * math.ceil(max(need - n * other.size, Fraction(0)) / one_size.size)
        for n in range(200)
    )
    best = min(
        best,
        min(
            n * one_size.cost + other.cost * math.ceil(max(need - n * one_size.size, Fraction(0)) / other.size)
            for n in range(20_000)
        ),
    )
    assert found.till <= best


def test_prices_in_step_with_their_size() -> None:
    """Every pack at one price a gram: any exact filling is cheapest, and the fewest packs decide."""
    sizes = (100, 150, 350, 700, 900, 1100)
    found = one((amount(3_700, "g"),), *(price("x", amount(size, "g"), str(size / 100)) for size in sizes))
    assert found.till == 37
    fewest = next(
        n for n in range(1, 9) for some in itertools.combinations_with_replacement(sizes, n) if sum(some) == 3_700
    )
    assert sum(choice.count for choice in found.choices) == fewest


def test_a_row_goes_only_when_another_does_all_it_does_for_less() -> None:
    def kept(*rows: tuple[int, int]) -> list[int]:
        places = tuple(Row(n, Fraction(cost), Fraction(size)) for n, (cost, size) in enumerate(rows))
        return [row.place for row in worth_looking_at(Covering(0, (Fraction(10),), places))]

    assert kept((5, 5), (4, 5)) == [1]
    assert kept((5, 5), (5, 6)) == [0, 1]  # the smaller leaves less
    assert kept((5, 12), (5, 11)) == [1]  # either is enough alone
    assert kept((5, 5), (5, 5)) == [0]
    assert kept((9, 6), (3, 2), (4, 2)) == [0, 1]  # 3 x 3 is no cheaper, and is more packs
    assert kept((10, 6), (3, 2)) == [1]


# ------------------------------------------------------------ what is loaded


def run(body: str) -> str:
    start = "import sys\nfrom tests.plan.make import amount, price\nfrom recipec.plan.packs import Thing, purchases\n"
    done = subprocess.run([sys.executable, "-c", start + body], capture_output=True, text=True, check=True)
    return done.stdout.strip()


def test_the_solver_is_loaded_only_for_a_choice() -> None:
    body = (
        "rows = (price('x', amount(500, 'g'), '1.00'), price('x', amount(1, 'kg'), {second!r}))\n"
        "found = purchases([Thing((amount(1400, 'g'),), rows, lambda _: None), Thing((), rows, lambda _: None)])\n"
        "print(found[0].till, any(name.startswith('ortools') for name in sys.modules))\n"
    )
    assert run(body.format(second="2.10")) == "3 False"
    assert run(body.format(second="1.90")) == "29/10 True"

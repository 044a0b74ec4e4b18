"""Budget help, held to every combination there is, and to what guests asked for. All dishes, prices and guests are invented."""

from __future__ import annotations

import itertools
import random
from decimal import Decimal
from fractions import Fraction

import pytest

from recipec.base.source import Source
from recipec.base.span import Span
from recipec.model.book import Book
from recipec.model.dish import Flag
from recipec.model.event import Event, Need, NeedKind, Seat
from recipec.model.prices import Money, Price
from recipec.plan import swaps as module
from recipec.plan.market import market
from recipec.plan.swaps import swaps
from recipec.plan.swaps_types import Swaps
from tests.changed import replace
from tests.plan.make import Mark, Ordered, amount, book, buy, dish, event, our, price, stocked

LARDER = stocked()


def either(first: Mark, *others: Mark) -> Mark:
    return replace(first, choices=others)


def seats(one: Event, *needs: tuple[int, NeedKind, str]) -> Event:
    span = Span(Source("supper.event", "x"), 0, 1)
    numbers = sorted({seat for seat, _, _ in needs})
    return one._replace(
        seats=tuple(
            Seat(number, tuple(Need(span, kind, what) for seat, kind, what in needs if seat == number))
            for number in numbers
        )
    )


def saved(many: Book, *events: str) -> Swaps:
    return swaps(many, LARDER, events or ("supper",))


def plain(words: str) -> str:
    """Without the spaces that hold a number to its unit."""
    return words.replace("\u00a0", " ")


def grams(name: str, much: int) -> Mark:
    return buy(f"{much} g {name}", name, amount(much, "g"))


def kilo(name: str, value: str, shop: str = "Quay Stores") -> Price:
    return price(name, amount(1, "kg"), value, shop)


# ------------------------------------------------------------ against every combination

FOODS = ("carrot", "squash", "butter", "flour", "rice", "oil")


def random_book(seed: int, through: bool = True) -> Book:
    """1 to 3 dishes and one they may be made with (`through`); up to 5 marks with a second or third choice; packs of several shops."""
    chance = random.Random(seed)
    left = chance.randint(0, 5)
    dishes = []

    def mark(deep: bool) -> Mark:
        if through and deep and chance.random() < 0.3:
            return our("200 ml our base", "base", "", amount(200, "ml"))
        return grams(chance.choice(FOODS), chance.choice([70, 150, 400, 520, 900]))

    for number in range(chance.randint(1, 3)):
        marks = []
        for _ in range(chance.randint(1, 3)):
            first = mark(number > 0)
            if left and chance.random() < 0.7:
                left -= 1
                first = either(first, *(mark(True) for _ in range(chance.choice([1, 1, 2]))))
            marks.append(replace(first, written=f"{len(marks)} {first.written}"))
        dishes.append(dish(f"dish-{number}", *marks, serves=4, larder=LARDER))
    base = dish(
        "base",
        either(grams("carrot", 300), grams("squash", 250)) if left else grams("carrot", 300),
        serves=None,
        makes=amount(300, "ml"),
        whole_batches=chance.random() < 0.5,
        larder=LARDER,
    )
    prices = [
        price(
            food,
            amount(chance.choice([250, 400, 500, 1000, 1500]), "g"),
            f"{chance.randint(40, 400) / 100:.2f}",
            chance.choice(["A", "B", "C"]),
        )
        for food in FOODS
        for _ in range(chance.randint(1, 3))
        if chance.random() < 0.95
    ]
    orders = [
        Ordered(one.key, without=("carrot",) if chance.random() < 0.2 else (), plates=Fraction(chance.randint(2, 9)))
        for one in dishes
    ]
    return book([*dishes, base], [event("supper", *orders)], prices)


def cheapest_by_trying(many: Book, found: Swaps) -> Decimal | None:
    """The least till over every combination of all marks, without those choices that were barred, and leaving nothing more unknown."""
    barred = {(one.dish, one.span.start, one.after) for one in found.barred}
    marks = [(one, use) for one in many.dishes for use in one.uses if use.choices]
    options = []
    for one, use in marks:
        places = [0]
        for place, choice in enumerate(use.choices, 1):
            # One of the same words may stand twice in a mark; both are barred alike.
            words = f"our {choice.name}" if choice.role == "our" else choice.name
            if not any(b[0] == one.key and b[1] == use.span.start and b[2].endswith(words) for b in barred):
                places.append(place)
        options.append(places)
    base = market(many, LARDER, ["supper"])
    unknown = {line.item for line in base.lines if line.price is None}
    best = None if base.till is None else base.till.value
    for picks in itertools.product(*options):
        chosen = {(one.key, use.number): place for (one, use), place in zip(marks, picks, strict=True)}
        tried = market(many, LARDER, ["supper"], chosen=chosen)
        if {line.item for line in tried.lines if line.price is None} <= unknown and tried.till is not None:
            best = tried.till.value if best is None else min(best, tried.till.value)
    return best


@pytest.mark.parametrize("start", range(0, 200, 50))
def test_the_best_combination_against_trying_all(start: int) -> None:
    combined = 0
    for seed in range(start, start + 50):
        many = random_book(seed)
        found = saved(many)
        assert found.proved
        assert (None if found.best is None else found.best.value) == cheapest_by_trying(many, found), seed
        assert found.best == market(many, LARDER, ["supper"], chosen=found.chosen).till
        if found.base is not None and found.best is not None:
            assert found.saving.value == found.base.value - found.best.value >= 0
        combined += len(found.combination) > 1
    assert combined > 3, "too few of the cases combine swaps"


# ------------------------------------------------------------ what swaps do to each other


def two_halves() -> Book:
    """Butter is sold by the kilo: taking oil for it in one dish alone saves nothing."""
    dishes = [
        dish(key, either(grams("butter", 300), grams("oil", 300)), serves=4, larder=LARDER)
        for key in ("first", "second")
    ]
    prices = [kilo("butter", "9.00"), price("oil", amount(600, "g"), "4.00")]
    return book(dishes, [event("supper", Ordered("first"), Ordered("second"), guests=4)], prices)


def test_two_swaps_save_together_though_neither_does_alone() -> None:
    found = saved(two_halves())
    assert (found.base, found.best) == (Money(Decimal("9.00"), "EUR"), Money(Decimal("4.00"), "EUR"))
    assert found.single == ()
    assert [(swap.dish, plain(swap.before), plain(swap.after), swap.saving.value) for swap in found.combination] == [
        ("first", "300 g butter", "300 g oil", Decimal("-4.00")),
        ("second", "300 g butter", "300 g oil", Decimal("-4.00")),
    ]
    assert dict(found.chosen) == {("first", 0): 1, ("second", 0): 1}
    assert found.proved


@pytest.mark.parametrize("seed", range(40))
def test_a_group_as_one_program_finds_what_trying_all_finds(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    many = random_book(seed + 1000, through=False)
    tried = saved(many)
    monkeypatch.setattr(module, "_MOST", 0)
    found = saved(many)
    if found.proved:
        assert found.best == tried.best
        assert len(found.combination) == len(tried.combination)
    elif found.best is not None and tried.best is not None:
        assert found.best.value >= tried.best.value


def test_many_marks_that_share_packs_are_settled_at_once() -> None:
    """Twelve dishes with butter, oil or lard: 531,441 combinations."""
    marks = [
        either(grams("butter", 80 + 7 * n), grams("oil", 90 + 5 * n), grams("lard", 70 + 11 * n)) for n in range(12)
    ]
    dishes = [dish(f"dish-{n:02}", mark, serves=4, larder=LARDER) for n, mark in enumerate(marks)]
    prices = [
        *(price("butter", amount(size, "g"), paid) for size, paid in ((250, "2.40"), (1000, "8.90"))),
        *(price("oil", amount(size, "g"), paid) for size, paid in ((400, "2.70"), (900, "5.90"))),
        *(price("lard", amount(size, "g"), paid) for size, paid in ((300, "2.20"), (700, "4.80"))),
    ]
    found = saved(book(dishes, [event("supper", *(Ordered(one.key) for one in dishes), guests=4)], prices))
    assert found.proved
    # Grams and packs by hand: for all that may be needed of each fat the least it costs, over all sums that twelve picks can come to.
    needs = {(0, 0, 0)}
    for n in range(12):
        more = ((80 + 7 * n, 0, 0), (0, 90 + 5 * n, 0), (0, 0, 70 + 11 * n))
        needs = {tuple(a + b for a, b in zip(had, one, strict=True)) for had in needs for one in more}  # type: ignore[misc]
    packs = (((250, 240), (1000, 890)), ((400, 270), (900, 590)), ((300, 220), (700, 480)))

    def cost(much: int, of: int) -> int:
        (small, cheap), (large, dear) = packs[of]
        return min(n * dear + max(0, -(-(much - n * large) // small)) * cheap for n in range(-(-much // large) + 1))

    known = [{much: cost(much, of) for much in {need[of] for need in needs}} for of in range(3)]
    least = min(sum(known[of][need[of]] for of in range(3)) for need in needs)
    assert found.best == Money(Decimal(least) / 100, "EUR")


def test_what_is_no_plain_sum_is_searched_and_not_called_proved(monkeypatch: pytest.MonkeyPatch) -> None:
    """Zest and juice come from the same lemons, so that no sum says how many there are."""
    marks = [
        either(buy(f"{n} lemons", "lemons", amount(n), part="zest"), buy(f"{n} limes", "limes", amount(n)))
        for n in (2, 3)
    ]
    dishes = [dish(f"dish-{n}", mark, serves=4, larder=LARDER) for n, mark in enumerate(marks)]
    prices = [price("lemon", amount(1), "0.50"), price("lime", amount(1), "0.30")]
    many = book(dishes, [event("supper", *(Ordered(one.key) for one in dishes), guests=4)], prices)
    assert saved(many).proved
    monkeypatch.setattr(module, "_MOST", 0)
    assert not saved(many).proved


def test_single_swaps_are_ranked_and_a_dearer_one_is_not_named() -> None:
    one = dish(
        "plate",
        either(grams("butter", 900), grams("oil", 900), grams("flour", 900)),
        either(grams("carrot", 900), grams("squash", 900)),
        serves=4,
        larder=LARDER,
    )
    prices = [kilo("butter", "9"), kilo("oil", "7"), kilo("flour", "1"), kilo("carrot", "2"), kilo("squash", "3")]
    found = saved(book([one], [event("supper", Ordered("plate"), guests=4)], prices))
    assert [(plain(swap.after), swap.saving.value) for swap in found.single] == [("900 g flour", 8), ("900 g oil", 2)]
    assert found.single[0].span.text == "[900 g butter]"
    assert found.saving.value == 8


def test_a_dish_for_another_dish() -> None:
    stock = dish("stock", grams("carrot", 800), serves=None, makes=amount(1, "l"), larder=LARDER)
    broth = dish("broth", grams("squash", 800), serves=None, makes=amount(1, "l"), larder=LARDER)
    soup = dish(
        "soup",
        either(our("1 l our stock", "stock", "stock", amount(1, "l")), our("", "broth", "", amount(1, "l"))),
        larder=LARDER,
    )
    prices = [kilo("carrot", "3"), kilo("squash", "2")]
    found = saved(book([stock, broth, soup], [event("supper", Ordered("soup"), guests=4)], prices))
    assert [(plain(swap.before), plain(swap.after), swap.saving.value) for swap in found.combination] == [
        ("1 l our stock", "1 l our broth", 1)
    ]


# ------------------------------------------------------------ what can't be judged, and what must not be


def test_a_choice_without_a_price_is_named_and_never_taken() -> None:
    one = dish("plate", either(grams("butter", 900), grams("squash", 900)), serves=4, larder=LARDER)
    found = saved(book([one], [event("supper", Ordered("plate"), guests=4)], [kilo("butter", "9")]))
    assert [(plain(bar.after), bar.why, bar.diet) for bar in found.barred] == [
        ("900 g squash", "no price is known for squash", False)
    ]
    assert found.best == found.base


def test_more_of_what_has_no_price_is_no_saving() -> None:
    one = dish(
        "plate", either(grams("butter", 900), grams("squash", 900)), grams("squash", 100), serves=4, larder=LARDER
    )
    found = saved(book([one], [event("supper", Ordered("plate"), guests=4)], [kilo("butter", "9")]))
    assert found.best == found.base
    assert found.single == ()
    assert found.at_least


def nutty(*needs: tuple[int, NeedKind, str], for_seats: tuple[int, ...] = ()) -> Swaps:
    one = dish("plate", either(grams("pistachios", 400), grams("hazelnuts", 400), grams("flour", 400)), larder=LARDER)
    two = dish("side", either(grams("butter", 400), grams("hazelnuts", 400)), larder=LARDER)
    prices = [kilo("pistachio", "30"), kilo("hazelnut", "10"), kilo("flour", "20"), kilo("butter", "12")]
    supper = event("supper", Ordered("plate", seats=for_seats), Ordered("side"), guests=4)
    return saved(book([one, two], [seats(supper, *needs)], prices))


def test_a_cheaper_choice_never_goes_against_a_guest() -> None:
    assert len(nutty().barred) == 0
    found = nutty((2, NeedKind.ALLERGIC, "tree nuts"))
    assert [(bar.title, plain(bar.after), bar.why, bar.diet) for bar in found.barred] == [
        ("Side", "400 g hazelnuts", "seat 2 is allergic to tree nuts: this brings hazelnuts", True)
    ]
    # Pistachios are nuts as well: who can't eat them is fed otherwise, and hazelnuts change nothing for them.
    assert [plain(swap.after) for swap in found.combination] == ["400 g hazelnuts"]
    found = nutty((2, NeedKind.ALLERGIC, "hazelnuts"))
    assert [bar.title for bar in found.barred] == ["Plate", "Side"]
    assert [plain(swap.after) for swap in found.combination] == ["400 g flour"]


def test_only_those_who_are_served_a_dish_count() -> None:
    found = nutty((2, NeedKind.ALLERGIC, "hazelnuts"), for_seats=(3, 4))
    assert [bar.title for bar in found.barred] == ["Side"]
    assert "400 g hazelnuts" in [plain(swap.after) for swap in found.combination]


@pytest.mark.parametrize(
    ("kind", "what", "first", "other", "why"),
    [
        (NeedKind.DIET, "vegetarian", "butter", "lard", "seat 1 is vegetarian: this brings lard"),
        (NeedKind.DIET, "vegan", "oil", "butter", "seat 1 is vegan: this brings butter"),
        (NeedKind.DIET, "no pork", "duck", "bacon", "seat 1 eats no pork: this brings bacon"),
        (NeedKind.DIET, "no alcohol", "cider vinegar", "red wine", "seat 1 eats no alcohol: this brings red wine"),
        (
            NeedKind.DIET,
            "halal",
            "carrot",
            "duck",
            "seat 1 is halal: this brings duck, and whether that suits is not known",
        ),
        (
            NeedKind.ALLERGIC,
            "milk",
            "oil",
            "mystery sauce",
            "this brings mystery sauce, and whether that suits is not known",
        ),
        (NeedKind.ALLERGIC, "milk", "oil", "stock cube", "this brings stock cube, which may not suit"),
        (
            NeedKind.ALLERGIC,
            "celery",
            "oil",
            "no such thing",
            "this brings no such thing, and whether that suits is not known",
        ),
        (NeedKind.RATHER_NOT, "squash", "carrot", "squash", "seat 1 would rather not have squash: this brings squash"),
        (NeedKind.WITHOUT, "coriander", "carrot", "coriander", "seat 1 eats no coriander: this brings coriander"),
    ],
)
def test_what_bars_a_choice(kind: NeedKind, what: str, first: str, other: str, why: str) -> None:
    one = dish("plate", either(grams(first, 900), grams(other, 900)), serves=4, larder=LARDER)
    items = [choice.item or choice.thing for use in one.uses for choice in (use, *use.choices)]
    prices = [kilo(items[0], "9"), kilo(items[1], "1")]
    free = saved(book([one], [event("supper", Ordered("plate"), guests=4)], prices))
    assert free.barred == () and free.saving.value == 8
    supper = seats(event("supper", Ordered("plate"), guests=4), (1, kind, what))
    found = saved(book([one], [supper], prices))
    assert len(found.barred) == 1 and why in found.barred[0].why, found.barred
    assert found.saving.value == 0 and found.combination == ()


def test_through_our_dishes_too() -> None:
    praline = dish("praline", grams("hazelnuts", 200), serves=None, makes=amount(200, "g"), larder=LARDER)
    one = dish(
        "plate",
        either(grams("butter", 200), our("", "praline", "", amount(200, "g"))),
        buy("salt", "salt", flags=(Flag.TO_TASTE,)),
        larder=LARDER,
    )
    supper = seats(event("supper", Ordered("plate"), guests=4), (1, NeedKind.ALLERGIC, "nuts"))
    found = saved(book([praline, one], [supper], [kilo("butter", "9"), kilo("hazelnut", "1"), kilo("salt", "1")]))
    assert [plain(bar.after) for bar in found.barred] == ["200 g our praline"]


def test_several_events_say_whose_seat_it_is() -> None:
    one = dish("plate", either(grams("butter", 900), grams("lard", 900)), serves=4, larder=LARDER)
    events = [
        event("lunch", Ordered("plate"), guests=4),
        seats(event("supper", Ordered("plate"), guests=4), (1, NeedKind.DIET, "vegetarian")),
    ]
    found = saved(book([one], events, [kilo("butter", "9"), kilo("lard", "1")]), "lunch", "supper")
    assert found.barred[0].why.startswith("seat 1 of Supper is vegetarian")


# ------------------------------------------------------------ shops


def test_what_leaving_out_a_shop_costs() -> None:
    one = dish("plate", grams("butter", 900), grams("flour", 900), serves=4, larder=LARDER)
    prices = [kilo("butter", "9", "A"), kilo("butter", "7", "B"), kilo("flour", "2", "A"), kilo("flour", "1.5", "C")]
    found = saved(book([one], [event("supper", Ordered("plate"), guests=4)], prices))
    assert [(left.shop, left.more and left.more.value, left.missing) for left in found.shops] == [
        ("B", 2, ()),
        ("C", Decimal("0.5"), ()),
    ]
    prices = [kilo("butter", "9", "A"), kilo("flour", "2", "B")]
    found = saved(book([one], [event("supper", Ordered("plate"), guests=4)], prices))
    assert [(left.shop, left.more, left.missing) for left in found.shops] == [
        ("A", None, ("butter",)),
        ("B", None, ("flour",)),
    ]


def test_nothing_has_a_price_and_nothing_can_be_chosen() -> None:
    one = dish("plate", grams("butter", 900), serves=4, larder=LARDER)
    found = saved(book([one], [event("supper", Ordered("plate"), guests=4)]))
    assert (found.base, found.best, found.saving.value, found.combination) == (None, None, 0, ())


def test_an_unknown_event_is_the_callers_mistake() -> None:
    with pytest.raises(KeyError):
        saved(book([]), "nonesuch")


# ------------------------------------------------------------ other cuts


def cuts(*needs: tuple[int, NeedKind, str], rump: str = "14", extra: tuple[Mark, ...] = ()) -> Swaps:
    one = dish("plate", grams("beef fillet", 900), *extra, serves=4, larder=LARDER)
    supper = seats(event("supper", Ordered("plate"), guests=4), *needs)
    return saved(book([one], [supper], [kilo("beef fillet", "50"), kilo("beef rump", rump), kilo("carrot", "1")]))


def test_a_cheaper_cut_is_named_apart_and_in_no_combination() -> None:
    found = cuts()
    assert [(one.name, one.other, one.saving.value) for one in found.stand_ins] == [("beef fillet", "beef rump", 36)]
    assert found.stand_ins[0].said
    assert (found.saving.value, found.combination, found.single) == (0, (), ())
    assert cuts(rump="51").stand_ins == ()


def test_what_is_on_the_list_already_is_bought_with_it() -> None:
    # 200 g of rump are wanted anyway: with 900 g more it takes a second kilo, which saves 14 less.
    found = cuts(extra=(grams("beef rump", 200),))
    assert [one.saving.value for one in found.stand_ins] == [36]
    found = cuts(extra=(grams("beef rump", 100),))
    assert [(one.other, one.saving.value) for one in found.stand_ins] == [("beef rump", 50), ("beef fillet", 14)]


def test_a_cut_that_a_guest_would_rather_not_have_is_not_named() -> None:
    assert cuts((1, NeedKind.RATHER_NOT, "beef rump")).stand_ins == ()

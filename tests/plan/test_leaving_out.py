"""Leaving a food out of a dish: what goes with it, what is made without it, and what can't be. All dishes are invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from recipec.book.compile import Build, compile_book
from recipec.larder.names import normal_name
from recipec.model.dish import Dish, FoodAt, GearAt, Role, Step
from recipec.plan.allergens import foods_in
from recipec.plan.batches_of_dish import batches_in, uses_in
from recipec.plan.cannot_leave import Refused, refusals
from recipec.plan.demand import Ask, demand
from recipec.plan.fill import dish_sheet
from recipec.plan.leaving_out import NOTHING, Leaving, Left
from recipec.plan.links import Links
from recipec.plan.sheet import DishSheet, StepBlock
from recipec.plan.version_dish import version_book
from tests.plan.kitchen_book import build

TORTE = """Almond torte with pears
serves: 4

For the paste:

Crush [150 g almonds] with [40 g caster sugar] and [a pinch of salt] in a {mortar} for <4 min>. -> almond paste

For the cream:

Whisk [300 g yoghurt] with [60 g almonds] in a {bowl} for <3 min>. -> cream

To plate:

Spread [the cream] on the plates, lay [4 pears, 150 g each, sliced] over it and dot it with [the almond paste], for <1 min per plate>.
"""


def made(folder: Path, text: str, **others: str) -> Build:
    files = {f"{key.replace('_', '-')}.dish": other for key, other in others.items()}
    return build(folder, {"test-dish.dish": text, **files})


def left(built: Build, *foods: str, key: str = "test-dish") -> Left:
    dish = built.book.dish(key)
    assert dish is not None
    leaving = Leaving(Links(built.book), built.larder)
    return leaving.left(dish, leaving.named(dish, foods))


def names(built: Build, found: Left, key: str = "test-dish") -> list[str]:
    dish = built.book.dish(key)
    assert dish is not None
    return sorted({dish.uses[number].name for number in found.gone})


def refused(built: Build, *foods: str) -> tuple[Refused, ...]:
    dish = built.book.dish("test-dish")
    assert dish is not None
    return refusals(Leaving(Links(built.book), built.larder), dish, foods)


def card(built: Build, *foods: str, key: str = "test-dish") -> DishSheet:
    return dish_sheet(built.book, built.larder, key, without=foods)


def text_of(sheet: DishSheet) -> str:
    return " ".join(
        piece.text
        for strand in sheet.strands
        for block in strand.blocks
        if isinstance(block, StepBlock)
        for piece in block.pieces
    )


# ---------------------------------------------------------------- what goes with it


def test_what_is_made_from_it_goes_and_what_only_holds_it_is_made_without(tmp_path: Path) -> None:
    built = made(tmp_path, TORTE)
    found = left(built, "almonds")
    # The paste is three quarters almonds and goes with its sugar; the cream is made without them.
    assert names(built, found) == ["almond paste", "almonds", "caster sugar", "salt"]
    assert found.results == ("almond paste",)
    assert found.steps == {0}
    assert not found.whole


def test_half_the_weight_is_enough_and_less_is_not(tmp_path: Path) -> None:
    for grams, gone in ((100, True), (99, False)):
        text = (
            f"Test dish\nserves: 4\n\nFor the mix:\n\nStir [{grams} g raisins] into [100 g honey] for <2 min>. -> mix\n\n"
            "To plate:\n\nSpoon [the mix] over [1 kg pears] for <1 min>.\n"
        )
        assert bool(left(made(tmp_path, text), "raisins").results) is gone


def test_water_and_seasoning_weigh_nothing(tmp_path: Path) -> None:
    text = (
        "Test dish\nserves: 4\n\nFor the stock:\n\nSimmer [300 g onions] in [2 l water] with [salt, to taste] for <20 min>. -> stock\n\n"
        "To plate:\n\nPour [the stock] over [600 g pears] for <1 min>.\n"
    )
    assert left(made(tmp_path, text), "onions").results == ("stock",)


def test_where_a_weight_is_not_known_it_is_made_without(tmp_path: Path) -> None:
    text = (
        "Test dish\nserves: 4\n\nFor the mix:\n\nStir [300 g raisins] into [2 flurbs] for <2 min>. -> mix\n\n"
        "To plate:\n\nSpoon [the mix] over [1 kg pears] for <1 min>.\n"
    )
    found = left(made(tmp_path, text), "raisins")
    assert (found.results, found.steps) == ((), frozenset())


def test_what_something_else_needs_is_not_lost_with_it(tmp_path: Path) -> None:
    text = (
        "Test dish\nserves: 4\n\nFor the nuts:\n\nToast [100 g almonds] in [20 g butter] for <4 min>. -> nuts\n\n"
        "To plate:\n\nBrush [1 kg pears] with [the butter] and top with [the nuts] for <2 min>.\n"
    )
    built = made(tmp_path, text)
    # The butter comes in with the nuts and is wanted further down: its step stays, without the nuts.
    assert "butter" not in names(built, left(built, "almonds"))


def test_through_dishes_of_the_book(tmp_path: Path) -> None:
    brittle = "Brittle\nmakes: 200 g\n\nBoil [120 g hazelnuts] with [80 g sugar] in a {saucepan} for <5 min>. -> brittle, 200 g\n"
    cream = (
        "Nut cream\nmakes: 500 g\n\nFold [100 g our brittle] into [400 g yoghurt] for <2 min>. -> nut cream, 500 g\n"
    )
    text = "Test dish\nserves: 4\n\nSpoon [200 g our nut cream] over [800 g pears] for <1 min per plate>.\n"
    built = made(tmp_path, text, brittle=brittle, nut_cream=cream)
    assert left(built, "hazelnuts", key="brittle").whole
    assert names(built, left(built, "hazelnuts", key="nut-cream"), "nut-cream") == ["brittle"]
    top = left(built, "hazelnuts")
    assert not top.gone
    assert top.changed == {0}
    runs = demand(built.book, built.larder, (Ask("test-dish", None, None, ("hazelnuts",)),)).runs
    assert [(run.dish.key, run.without) for run in runs] == [
        ("nut-cream", ("hazelnuts",)),
        ("test-dish", ("hazelnuts",)),
    ]
    # A dish of the book can itself be what is left out.
    assert left(built, "brittle").changed == {0}


def test_another_choice_steps_in(tmp_path: Path) -> None:
    text = "Test dish\nserves: 4\n\nWarm [200 ml milk or 200 ml oat drink] with [500 g pears] for <5 min>. Whisk [the milk] for <1 min>.\n"
    built = made(tmp_path, text)
    found = left(built, "milk")
    assert [use.name for _, use in found.swapped] == ["oat drink"]
    sheet = card(built, "milk")
    assert "or" not in text_of(sheet).split()
    assert "the milk (here oat drink)" in " ".join(text_of(sheet).split())
    assert "milk" not in sheet.allergens.contains


# ---------------------------------------------------------------- what can't be


def test_a_dish_can_t_be_left_without_what_it_is_made_from(tmp_path: Path) -> None:
    found = refused(made(tmp_path, TORTE), "pears")
    assert [one.absent for one in found] == [False]
    assert "is made from pears" in found[0].text
    assert refused(made(tmp_path, TORTE), "almonds") == ()


def test_a_name_that_is_not_there_or_is_two(tmp_path: Path) -> None:
    text = "Test dish\nserves: 4\n\nDress [1 kg pears] with [60 g pine nuts] and [60 g brazil nuts] for <2 min>.\n"
    built = made(tmp_path, text)
    assert "could mean several" in refused(built, "nuts")[0].text
    assert "Nothing called `walnuts`" in refused(built, "walnuts")[0].text
    assert refused(built, "pine nuts") == ()


def test_what_is_weighed_against_it(tmp_path: Path) -> None:
    text = "Test dish\nserves: 4\n\nBrown [300 g bacon] for <5 min>. Turn [1 kg potatoes] with [salt, 2% of the bacon] for <2 min>.\n"
    found = refused(made(tmp_path, text), "bacon")
    assert len(found) == 1
    assert "reckoned from the bacon" in found[0].text


def test_what_is_inside_something_bought(tmp_path: Path) -> None:
    text = "Test dish\nserves: 4\n\nDot [1 kg pears] with [50 g hazelnut butter] and [30 g hazelnuts] for <2 min>.\n"
    found = refused(made(tmp_path, text), "hazelnuts")
    assert len(found) == 1
    assert "Hazelnut butter in Test dish has hazelnuts in it as it is bought" in found[0].text
    assert refused(made(tmp_path, text), "hazelnuts", "hazelnut butter") == ()


# ---------------------------------------------------------------- the version's own card


def test_a_version_s_card_has_its_own_ingredients_gear_and_steps(tmp_path: Path) -> None:
    built = made(tmp_path, TORTE)
    sheet, plain = card(built, "almonds"), card(built)
    assert [line.name for line in sheet.ingredients] == ["yoghurt", "pears"]
    assert "mortar" in plain.gear
    assert "mortar" not in sheet.gear
    assert [strand.heading for strand in sheet.strands] == ["For the cream", "To plate"]
    words = text_of(sheet)
    assert "(NOT the almonds)" in words
    assert "(NOT the almond paste)" in words
    assert "nuts" in plain.allergens.contains
    assert "nuts" not in sheet.allergens.contains
    assert sheet.without == ("almonds",)
    assert sheet.version != plain.version
    assert any("clean" in note for note in sheet.notes)


def test_what_binds_is_told_to_be_tried(tmp_path: Path) -> None:
    text = "Test dish\nserves: 4\n\nWhisk [2 eggs] into [600 ml milk] and bake for <30 min>.\n"
    assert any("try this version" in note for note in card(made(tmp_path, text), "eggs").notes)


# ---------------------------------------------------------------- every food of every dish of the demo book

RECIPES = Path(__file__).parents[2] / "recipes"


@pytest.fixture(scope="module")
def demo() -> Build:
    return compile_book(RECIPES, events=False)


def test_a_version_holds_nothing_of_it_wherever_one_looks(demo: Build) -> None:
    links = Links(demo.book)
    leaving = Leaving(links, demo.larder)
    looked = 0
    for dish in demo.book.dishes:
        foods = sorted({use.name for part in leaving.all_of(dish) for use in part.uses if use.role is Role.BUY})
        for food in foods:
            if refusals(leaving, dish, (food,)):
                continue
            looked += 1
            book = version_book(demo.book, demo.larder, dish.key, (food,))
            below = Links(book)
            version = below.dish(dish.key)
            assert version is not None
            whole(version)
            there = list(foods_in(below, version, version.uses))
            assert not any(leaving.is_food(use, food, version) for use in there), (dish.key, food)
            # The market list buys for just what the card has on it.
            runs = demand(demo.book, demo.larder, (Ask(dish.key, None, None, (food,)),)).runs
            bought = {normal_name(use.name) for run in runs for use in run.bought}
            assert bought == {normal_name(use.name) for use in there}, (dish.key, food)
    assert looked > 150


def whole(dish: Dish) -> None:
    """Every mark of the text is one of the lists, and nothing is spoken of that is not there."""
    there = {use.thing for use in dish.uses if use.role in (Role.BUY, Role.OUR)}
    there |= {made.thing for step in dish.steps() for made in step.makes}
    there |= {strand.makes for strand in dish.strands if strand.makes is not None}
    for number, use in enumerate(dish.uses):
        assert use.number == number
        assert use.role in (Role.BUY, Role.OUR) or use.thing in there, (dish.key, use.name)
    numbers = {step.number for step in dish.steps()}
    for strand in dish.strands:
        assert all(need < len(dish.strands) for need in strand.needs)
        for step in strand.blocks:
            if isinstance(step, Step):
                assert set(step.waits) <= numbers
                for sentence in step.sentences:
                    for piece in sentence.pieces:
                        assert not isinstance(piece, GearAt) or dish.gear[piece.gear].number == piece.gear
                        assert not isinstance(piece, FoodAt) or piece.use < len(dish.uses)


def test_batches_hold_every_step_once(demo: Build) -> None:
    for dish in demo.book.dishes:
        found = batches_in(dish)
        assert [number for batch in found for number in batch.steps] == [step.number for step in dish.steps()]
        assert sum(batch.final for batch in found) == (1 if dish.steps() else 0)
        assert {use for batch in found for use in batch.uses} == {use for step in dish.steps() for use in uses_in(step)}


def test_leaving_nothing_out_changes_nothing(demo: Build) -> None:
    leaving = Leaving(Links(demo.book), demo.larder)
    for dish in demo.book.dishes:
        assert leaving.left(dish, ()) is NOTHING
        assert version_book(demo.book, demo.larder, dish.key, ("no such food",)) == demo.book

"""Leaving out a result of a step or a strand by its name: what goes with it, and what can't be taken out. All dishes are invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from recipec.book.compile import compile_book
from recipec.plan.allergens import foods_in
from recipec.plan.cannot_leave import refusals
from recipec.plan.demand import Ask, demand
from recipec.plan.leaving_out import Leaving
from recipec.plan.links import Links
from recipec.plan.version_dish import version_book
from tests.plan.guest_books import build as guest_build
from tests.plan.guest_books import guests, slugs
from tests.plan.kitchen_book import EVENT, problem
from tests.plan.test_leaving_out import RECIPES, card, left, made, names, refused, text_of, whole

LEEKS = """Leeks
serves: 4

For the base:

Lay [50 g butter] and [2 lemons] out.

For the crumb:

Toast [80 g hazelnuts] with [60 g breadcrumbs] in a {frying pan} for <5 min attended>. -> toasted nuts

Stir in [half the butter] and [a pinch of salt]. -> nut crumb

To plate:

Char [12 leeks] in the rest of the butter in a {griddle} for <8 min attended>. Scatter with [the nut crumb], for <30 s per plate>.
"""


def bought(folder: Path, text: str, *foods: str, **others: str) -> list[str]:
    built = made(folder, text, **others)
    runs = demand(built.book, built.larder, (Ask("test-dish", None, None, foods),)).runs
    return sorted({use.name for run in runs for use in run.bought})


# ---------------------------------------------------------------- what goes with it


def test_a_result_goes_with_what_was_brought_in_and_made_only_for_it(tmp_path: Path) -> None:
    built = made(tmp_path, LEEKS)
    for name in ("nut crumb", "crumb", "the crumb", "Nut Crumbs"):
        found = left(built, name)
        # By its arrow, by the heading of its strand, in the plural: the crumb, and the nuts that were toasted for nothing else.
        assert found.results == ("toasted nuts", "nut crumb"), name
        assert names(built, found) == ["breadcrumbs", "butter", "hazelnuts", "nut crumb", "salt"], name
        assert refused(built, name) == (), name
        assert not found.whole
    # The butter is wanted for the leeks as well: only the share of it goes.
    runs = demand(built.book, built.larder, (Ask("test-dish", None, None, ("nut crumb",)),)).runs
    assert [run.without for run in runs] == [("nut crumb",)]
    assert [use.name for use in runs[0].bought] == ["butter", "lemons", "leeks"]


def test_what_is_made_from_it_goes_and_what_only_holds_it_is_made_without(tmp_path: Path) -> None:
    text = (
        "Test dish\nserves: 4\n\nFor the paste:\n\nPound [200 g almonds] for <4 min>. -> almond paste, 200 g\n\n"
        "For the biscuits:\n\nWork [120 g of the almond paste] into [100 g sugar] and bake for <9 min>. -> biscuits\n\n"
        "For the cream:\n\nWhisk [the rest of the almond paste] into [500 g yoghurt] for <2 min>. -> cream\n\n"
        "To plate:\n\nSpoon [the cream] over [800 g pears] and lay [the biscuits] on it, for <1 min per plate>.\n"
    )
    built = made(tmp_path, text)
    found = left(built, "almond paste")
    assert found.results == ("almond paste", "biscuits")
    assert names(built, found) == ["almond paste", "almonds", "biscuits", "sugar"]
    # Leaving out only the biscuits leaves the paste for the cream.
    found = left(built, "biscuits")
    assert found.results == ("biscuits",)
    assert names(built, found) == ["almond paste", "biscuits", "sugar"]


def test_what_is_in_hand_goes_on_as_what_it_was(tmp_path: Path) -> None:
    text = (
        "Test dish\nserves: 4\n\nFor the crumb:\n\nToast [100 g breadcrumbs] in a {frying pan} for <5 min>. -> toasted crumbs\n\n"
        "Stir in [10 g thyme] for <1 min>. -> herb crumbs\n\nTo plate:\n\nScatter [the herb crumbs] over [800 g pears] for <1 min>.\n"
    )
    assert names(made(tmp_path, text), left(made(tmp_path, text), "toasted crumbs")) == [
        "breadcrumbs",
        "herb crumbs",
        "thyme",
    ]


def test_food_laid_out_for_it_alone_is_not_bought(tmp_path: Path) -> None:
    text = (
        "Test dish\nserves: 4\n\nFor the crumb:\n\n[100 g hazelnuts]\n[20 g butter]\n\n"
        "Toast [the hazelnuts] in [the butter] for <5 min>. -> crumb\n\nTo plate:\n\nScatter [the crumb] over [800 g pears] for <1 min>.\n"
    )
    assert bought(tmp_path, text, "crumb") == ["pears"]


def test_one_of_two_results_of_a_step_is_only_not_used(tmp_path: Path) -> None:
    text = (
        "Test dish\nserves: 4\n\nFor the eggs:\n\nSeparate [4 eggs] into a {bowl} for <3 min>. -> yolks; whites\n\n"
        "For the cream:\n\nWhisk [the yolks] into [300 ml milk] for <3 min>. -> cream\n\n"
        "To serve:\n\nBeat [the whites] with [100 g sugar] for <5 min> and spoon over [the cream].\n"
    )
    built = made(tmp_path, text)
    assert refused(built, "cream") == ()
    assert names(built, left(built, "cream")) == ["cream", "milk", "yolks"]
    # The eggs are still bought, and still in it.
    assert "eggs" in card(built, "cream").allergens.contains
    assert "milk" not in card(built, "cream").allergens.contains
    assert bought(tmp_path, text, "yolks") == ["eggs", "milk", "sugar"]


def test_a_name_that_is_a_food_and_a_result_leaves_out_both(tmp_path: Path) -> None:
    text = (
        "Test dish\nserves: 4\n\nFor the cream:\n\nSoak [200 g cashews] and blend with [100 ml water] for <3 min>. -> cream\n\n"
        "To serve:\n\nFold [50 ml double cream] into [800 g pears], and spoon on [the cream], for <1 min>.\n"
    )
    built = made(tmp_path, text.replace("50 ml double cream", "50 ml cream"))
    found = left(built, "cream")
    assert names(built, found) == ["cashews", "cream", "water"]
    sheet = card(built, "cream")
    assert [line.name for line in sheet.ingredients] == ["pears"]
    assert sheet.allergens.contains == ()


def test_through_dishes_of_the_book_and_the_end_of_one(tmp_path: Path) -> None:
    leeks = LEEKS.replace("serves: 4", "makes: 1 kg")
    text = "Test dish\nserves: 4\n\nLay [1 kg our leeks] on [4 slices bread] for <1 min per plate>.\n"
    built = made(tmp_path, text, leeks=leeks)
    top = left(built, "nut crumb")
    assert not top.gone
    assert top.changed == {0}
    assert refused(built, "crumb") == ()
    runs = demand(built.book, built.larder, (Ask("test-dish", None, None, ("the crumb",)),)).runs
    assert [(run.dish.key, run.without) for run in runs] == [("leeks", ("crumb",)), ("test-dish", ("crumb",))]
    assert "nuts" in card(built).allergens.contains
    assert "nuts" not in card(built, "crumb").allergens.contains
    # What the other dish itself ends in: the whole of it goes.
    sauce = "Green sauce\nmakes: 200 ml\n\nBlend [100 g parsley] with [100 ml olive oil] for <2 min>. -> salsa\n"
    text = "Test dish\nserves: 4\n\nSpoon [200 ml our green sauce] over [1 kg potatoes] for <1 min per plate>.\n"
    assert bought(tmp_path, text, "salsa", green_sauce=sauce) == ["potatoes"]


# ---------------------------------------------------------------- what can't be


def test_what_came_in_with_it_and_is_used_again_can_t_be_taken_out(tmp_path: Path) -> None:
    text = (
        "Test dish\nserves: 4\n\nFor the nuts:\n\nToast [100 g almonds] in [20 g butter] for <4 min>. -> nuts\n\n"
        "To plate:\n\nBrush [1 kg pears] with [the butter] and top with [the nuts] for <2 min>.\n"
    )
    built = made(tmp_path, text)
    found = refused(built, "nuts")
    assert len(found) == 1
    assert "The nuts of Test dish can't be taken out: the butter in it is used again elsewhere" in found[0].text
    assert [words for _, words in found[0].marks] == ["made here", "comes in with it", "and is used here"]
    # Nothing is called free of what may still be in the butter.
    assert {"almonds", "butter"} <= set(bought(tmp_path, text, "nuts"))


def test_when_that_again_goes_too_it_can(tmp_path: Path) -> None:
    text = (
        "Test dish\nserves: 4\n\nFor the nuts:\n\nToast [100 g almonds] in [20 g butter] for <4 min>. -> nuts, 110 g\n\n"
        "For the brittle:\n\nBoil [the nuts] with [10 g honey] and [the butter] for <4 min>. -> brittle\n\n"
        "To plate:\n\nTop [1 kg pears] with [the brittle] for <2 min>.\n"
    )
    built = made(tmp_path, text)
    for name in ("nuts", "brittle"):
        assert refused(built, name) == (), name
        assert bought(tmp_path, text, name) == ["pears"], name


def test_the_dish_itself_and_its_last_part(tmp_path: Path) -> None:
    text = (
        "Test dish\nserves: 4\n\nFor the pears:\n\nPoach [1 kg pears] for <9 min>. -> poached pears\n\n"
        "For the top:\n\nScatter [the poached pears] with [salt, to taste] for <1 min>.\n"
    )
    built = made(tmp_path, text)
    assert "Nothing of Test dish is left without the poached pears" in refused(built, "poached pears")[0].text
    assert "`top` is the part in which Test dish is put together" in refused(built, "top")[0].text
    ended = made(tmp_path, "Test dish\nserves: 4\n\nPoach [1 kg pears] for <9 min>. -> compote\n")
    assert "Nothing of Test dish is left without the compote" in refused(ended, "compote")[0].text


def test_what_is_weighed_against_it(tmp_path: Path) -> None:
    text = (
        "Test dish\nserves: 4\n\nFor the dough:\n\nKnead [300 g flour] with [180 g water] for <9 min>. -> dough, 480 g\n\n"
        "To serve:\n\nTurn [2 kg potatoes] in [salt, 1% of the dough] and lay on [the dough] for <2 min>.\n"
    )
    assert "reckoned from the dough" in refused(made(tmp_path, text), "dough")[0].text


def test_a_name_that_is_neither_says_so_with_the_nearest(tmp_path: Path) -> None:
    built = made(tmp_path, LEEKS)
    (one,) = refused(built, "nut crums")
    assert one.text == "Nothing called `nut crums` is in Leeks to leave out."
    assert one.hint == "Did you mean `without nut crumb`?"
    two = LEEKS.replace("-> toasted nuts", "-> plain crumb").replace("For the crumb:", "For the top:")
    (one,) = refused(made(tmp_path, two), "crumb")
    assert one.text == "`without crumb` could mean several things in Leeks: nut crumb or plain crumb."
    thrown = "Test dish\nserves: 4\n\nBoil [1 kg potatoes] in [2 l water] for <20 min>. -> potatoes, boiled; cooking water, discarded\n"
    assert "is thrown away" in refused(made(tmp_path, thrown), "cooking water")[0].text


def test_a_result_named_for_its_food_is_not_the_food(tmp_path: Path) -> None:
    text = (
        "Test dish\nserves: 4\n\nFor the nuts:\n\nToast [60 g hazelnuts] for <4 min>. -> toasted hazelnuts\n\n"
        "To plate:\n\nBlend [40 g hazelnuts] into [800 g carrots] for <4 min>. Top with [the toasted hazelnuts].\n"
    )
    assert bought(tmp_path, text, "toasted hazelnuts") == ["carrots", "hazelnuts"]
    assert bought(tmp_path, text, "hazelnuts") == ["carrots"]
    # Where nothing is made under that name it is the food as it is bought.
    text = "Test dish\nserves: 4\n\nBlend [40 g hazelnuts] into [800 g carrots] for <4 min>.\n"
    assert bought(tmp_path, text, "toasted hazelnuts") == ["carrots"]


# ---------------------------------------------------------------- wherever a version is made


def test_the_version_s_card(tmp_path: Path) -> None:
    built = made(tmp_path, LEEKS)
    sheet = card(built, "nut crumb")
    assert [line.name for line in sheet.ingredients] == ["butter", "lemons", "leeks"]
    assert "frying pan" not in sheet.gear
    assert "(NOT the nut crumb)" in text_of(sheet)
    assert "nuts" in card(built).allergens.contains
    assert sheet.allergens.contains == ("milk",)
    assert sheet.without == ("nut crumb",)


ORDERS = "Starter, <13:00>:\n\n[5 plates of our fine leeks]\n[1 plate of our fine leeks, without {what}, for seat 2]\n"
FINE = LEEKS.replace("Leeks\nserves: 4", "Fine leeks\nserves: 6")


def test_the_matrix_and_the_findings(tmp_path: Path) -> None:
    built = guest_build(
        tmp_path, ORDERS.format(what="the crumb"), ("seat 2: allergic to tree nuts; allergic to milk",), fine=FINE
    )
    assert not [one for one in built.findings if one.slug == "cannot-leave-out"]
    # Free of the nuts, and not of the milk: the leeks are charred in the butter.
    said = [one.message for one in built.findings if one.slug == "allergen-served"]
    assert said == ["Seat 2 is allergic to milk, and Fine leeks without crumb contains butter."]
    served = next(one for one in guests(built).served if one.order.without)
    assert sorted(one.food.name for one in served.eaten) == ["butter", "leeks", "lemons"]


def test_what_can_t_be_taken_out_is_an_error_and_counts_as_there(tmp_path: Path) -> None:
    text = (
        "Fine leeks\nserves: 6\n\nFor the crumb:\n\nToast [100 g almonds] in [20 g butter] for <4 min>. -> crumb\n\n"
        "To plate:\n\nBrush [1 kg leeks] with [the butter] and top with [the crumb] for <2 min>.\n"
    )
    built = guest_build(tmp_path, ORDERS.format(what="crumb"), ("seat 2: allergic to tree nuts",), fine=text)
    assert [one.slug for one in built.findings if one.slug == "cannot-leave-out"] == ["cannot-leave-out"]
    assert slugs(built) == ["allergen-served"]


def test_an_order_that_names_nothing_there(tmp_path: Path) -> None:
    built = guest_build(tmp_path, ORDERS.format(what="nut crums"), fine=FINE)
    (one,) = (one for one in built.findings if one.slug == "cannot-leave-out")
    assert one.message == "Nothing called `nut crums` is in Fine leeks to leave out."
    # By any name the larder knows for it.
    text = "Fine leeks\nserves: 6\n\nFry [1 kg leeks] with [300 g aubergines] for <9 min>.\n"
    built = guest_build(tmp_path, ORDERS.format(what="eggplant"), fine=text)
    assert not [one for one in built.findings if one.slug == "cannot-leave-out"]


def test_the_run_sheet(tmp_path: Path) -> None:
    event = EVENT.replace(
        "[our test dish]", "[3 plates of our test dish]\n[1 plate of our test dish, without the nut crumb, for seat 2]"
    ).replace("aim: calm", "aim: calm\nseat 2: allergic to hazelnuts")
    found = problem(tmp_path, LEEKS.partition("serves: 4\n\n")[2], event=event)
    assert len([task for task in found.tasks if task.verb == "toast"]) == 1
    assert [run.without for run in found.runs] == [(), ("nut crumb",)]
    free = [task for task in found.tasks if task.text.startswith("Without nut crumb, on clean kit.")]
    assert len(free) == 1
    # What the version shares is done once for all, the butter and lemons.
    assert len([task for task in found.tasks if task.verb == "lay"]) == 1


# ---------------------------------------------------------------- every result of every dish of the demo book


@pytest.mark.parametrize("at", range(4))
def test_a_version_without_a_result_is_sound(at: int) -> None:
    demo = compile_book(RECIPES, events=False)
    links = Links(demo.book)
    leaving = Leaving(links, demo.larder)
    looked = 0
    for dish in demo.book.dishes[at::4]:
        results = {thing.name for part in leaving.all_of(dish) for thing in part.things if thing.kind == "made"}
        for name in sorted(results):
            if refusals(leaving, dish, (name,)):
                continue
            looked += 1
            book = version_book(demo.book, demo.larder, dish.key, (name,))
            version = Links(book).dish(dish.key)
            assert version is not None
            whole(version)
            for part in leaving.all_of(dish, (name,)):
                later = Links(book).dish(part.key)
                assert later is not None
                there = {use.name for use in later.uses if use.thing in leaving.results(part, name)}
                assert not there, (dish.key, part.key, name)
            there = {use.name for use in foods_in(Links(book), version, version.uses)}
            runs = demand(demo.book, demo.larder, (Ask(dish.key, None, None, (name,)),)).runs
            assert there == {use.name for run in runs for use in run.bought}, (dish.key, name)
    assert looked > 3

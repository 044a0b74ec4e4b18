"""Plates without some food in the work of a booking: made apart, first, and on clean kit. All dishes are invented."""

from __future__ import annotations

from pathlib import Path

from recipec.plan.timeline_types import Problem, Task, Work
from tests.plan.kitchen_book import EVENT, KITCHEN, problem

ORDERS = "[3 plates of our test dish]\n[1 plate of our test dish, without {food}, for seat 2]"
FRYER = KITCHEN.replace("hands: 1", "fryer: 1\nhands: 1")


def supper(food: str, seat: str = "") -> str:
    event = EVENT.replace("[our test dish]", ORDERS.format(food=food))
    return event.replace("aim: calm", f"aim: calm\nseat 2: {seat}") if seat else event


def before(found: Problem, first: Task, second: Task) -> bool:
    """Whether the links put one before the other."""
    todo, seen = [found.tasks.index(first)], set[int]()
    while todo:
        at = todo.pop()
        for link in found.links:
            if link.before == at and link.after not in seen:
                seen.add(link.after)
                todo.append(link.after)
    return found.tasks.index(second) in seen


def slugs(found: Problem) -> list[str]:
    return [one.slug for one in found.kit]


NUTS = (
    "For the crumb:\n\nToast [100 g hazelnuts] with [10 g butter] in a {frying pan} for <5 min>. -> nut crumb\n\n"
    "To plate:\n\nSlice [4 pears] for <3 min>. Scatter them with [the nut crumb] for <30 s per plate>."
)


def test_free_from_plates_are_set_first(tmp_path: Path) -> None:
    found = problem(tmp_path, NUTS, event=supper("hazelnuts", "allergic to hazelnuts"))
    free, others = sorted((task for task in found.tasks if task.work is Work.PLATE), key=lambda task: task.seconds)
    assert free.text.startswith("Without hazelnuts, on clean kit.")
    assert before(found, free, others)
    # What is made from nuts is not made for them at all, butter and all.
    assert len([task for task in found.tasks if task.verb == "toast"]) == 1
    assert slugs(found) == []


def test_a_pan_that_held_it_is_washed_before_anything_for_an_allergic_guest(tmp_path: Path) -> None:
    text = NUTS.replace(
        "Slice [4 pears] for <3 min>.",
        "Brown [4 pears] in a {frying pan} for <3 min>. -> pears\n\nLay out [the pears].",
    )
    many = KITCHEN.replace("frying pan: 2", "frying pan: 5")
    washed = problem(tmp_path, text, many, supper("hazelnuts", "allergic to hazelnuts"))
    # There are pans enough: for a wish nobody washes, for an allergy the one that held nuts is.
    assert [task.text for task in washed.tasks if task.work is Work.WASH] == ["Wash the frying pan."]
    wish = problem(tmp_path, text, many, supper("hazelnuts", "rather not hazelnuts"))
    assert [task for task in wish.tasks if task.work is Work.WASH] == []


def test_what_is_shared_until_then_is_taken_out_first_into_gear_of_its_own(tmp_path: Path) -> None:
    text = (
        "Soften [2 onions] in a {saucepan} for <8 min>. Stir in [50 g hazelnuts] for <2 min>. "
        "Ladle it out for <30 s per plate>."
    )
    found = problem(tmp_path, text, event=supper("hazelnuts", "allergic to hazelnuts"))
    assert len([task for task in found.tasks if task.verb == "soften"]) == 1
    stirred = [task.text for task in found.tasks if task.verb == "stir"]
    assert len(stirred) == 2
    assert any(text.startswith("First take out what is for the plates without hazelnuts.") for text in stirred)
    assert any("NOT the hazelnuts" in text and "with a clean spoon" in text for text in stirred)
    pan = next(place for place, pool in enumerate(found.pools) if pool.key == "saucepan")
    assert len([keep for keep in found.keeps if keep.need.pool == pan]) == 2


def test_a_dish_made_with_a_version_of_another_is_made_apart_too(tmp_path: Path) -> None:
    cream = "Test cream\nmakes: 400 g\n\nWhisk [300 g yoghurt] with [60 g hazelnuts] in a {bowl} for <4 min>. -> cream, 400 g\n"
    text = "Slice [4 pears] for <3 min>. Dress them with [200 g our test cream] for <30 s per plate>."
    found = problem(tmp_path, text, event=supper("hazelnuts"), test_cream=cream)
    whisked = [task.text for task in found.tasks if task.verb == "whisk"]
    assert len(whisked) == 2
    assert len([text for text in whisked if "NOT the hazelnuts" in text]) == 1
    assert len([task for task in found.tasks if task.work is Work.PLATE]) == 2


FRIED = "Fry [400 g prawns] in a {fryer} for <3 min>. Serve with [2 lemons] for <30 s per plate>."


def test_oil_is_used_first_for_whoever_must_not_have_what_goes_in_later(tmp_path: Path) -> None:
    chips = "Test chips\nserves: 4\n\nFry [800 g potatoes] in a {fryer} for <6 min>. -> chips\n"
    event = supper("lemons", "allergic to crustaceans").replace("[3 plates", "[our test chips]\n[3 plates")
    event = event.replace("[1 plate of our test dish, without lemons, for seat 2]", "").replace(
        "[3 plates of our test dish]", "[3 plates of our test dish, for seats 1, 3 and 4]"
    )
    found = problem(tmp_path, FRIED, FRYER, event, test_chips=chips)
    chips_task = next(task for task in found.tasks if "potatoes" in task.text)
    prawns = next(task for task in found.tasks if "prawns" in task.text)
    assert before(found, chips_task, prawns)
    assert slugs(found) == []


def test_oil_that_held_it_in_an_earlier_course_is_a_danger(tmp_path: Path) -> None:
    chips = "Test chips\nserves: 4\n\nFry [800 g potatoes] in a {fryer} for <6 min>. -> chips\n"
    for seat, slug in (("allergic to crustaceans", "shared-kit"), ("vegetarian", "same-kit")):
        event = EVENT.replace(
            "[our test dish]",
            "[3 plates of our test dish, for seats 1, 3 and 4]\n\nLater, <20:00>:\n\n[our test chips]",
        )
        event = event.replace("aim: calm", f"aim: calm\nseat 2: {seat}")
        found = problem(tmp_path, FRIED, FRYER, event, test_chips=chips)
        assert slugs(found) == [slug]
        assert "Test chips uses the fryer after Test dish" in found.kit[0].text


def test_one_pot_of_oil_for_what_is_left_out_and_then_for_the_rest(tmp_path: Path) -> None:
    text = (
        "Heat [1 l sunflower oil] in a {saucepan} for <5 min>. Fry [300 g prawns] in it for <3 min>, and lift them out. "
        "Fry [500 g potatoes] in it for <6 min>. Serve at once, for <30 s per plate>."
    )
    found = problem(tmp_path, text, event=supper("prawns", "allergic to crustaceans"))
    assert slugs(found) == ["shared-kit"]
    assert "go into the same saucepan" in found.kit[0].text
    turned = (
        text.replace("[300 g prawns]", "[P]")
        .replace("[500 g potatoes]", "[300 g prawns]")
        .replace("[P]", "[500 g potatoes]")
    )
    assert slugs(problem(tmp_path, turned, event=supper("prawns", "allergic to crustaceans"))) == []


def test_a_version_is_fried_before_the_rest_once_the_oil_is_hot(tmp_path: Path) -> None:
    text = (
        "Heat [2 l sunflower oil] in a {fryer} for <10 min>. Coat [400 g cod] in [60 g hazelnuts] for <3 min>. "
        "Fry [the cod] in {the fryer} for <4 min>. Serve for <30 s per plate>."
    )
    found = problem(tmp_path, text, FRYER, supper("hazelnuts", "allergic to hazelnuts"))
    assert slugs(found) == []
    fried = [task for task in found.tasks if task.verb == "fry"]
    assert len(fried) == 2
    assert before(found, *fried) or before(found, *reversed(fried))

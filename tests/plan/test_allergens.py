"""Allergens through dishes. Unknown is never free."""

from __future__ import annotations

from recipec.emit.card_text import card_text
from recipec.plan.allergens import AllergenAnswer, allergens_of
from recipec.plan.fill import dish_sheet
from recipec.plan.links import Links
from tests.plan.make import Mark, amount, book, buy, dish, our, stocked


def answer(*marks: Mark) -> AllergenAnswer:
    sauce = dish("sauce", buy("1 egg", "egg", amount(1)), buy("2 g wonder dust", "wonder dust"), larder=stocked())
    plate = dish("plate", *marks, larder=stocked())
    return allergens_of(Links(book([sauce, plate])), stocked(), plate)


def test_known_foods_are_known() -> None:
    assert answer(buy("1 egg", "egg"), buy("butter", "butter")) == AllergenAnswer(("eggs", "milk"), (), ())


def test_what_the_larder_does_not_know_is_named() -> None:
    assert answer(buy("wonder dust", "wonder dust")).unknown == ("wonder dust",)
    assert answer(buy("mystery sauce", "mystery sauce")).unknown == ("mystery sauce",)


def test_a_list_that_the_packet_completes_is_unknown_beyond_what_it_names() -> None:
    assert answer(buy("1 stock cube", "stock cube")) == AllergenAnswer(("celery",), ("milk",), ("stock cube",))


def test_through_our_dishes() -> None:
    assert answer(our("our sauce", "sauce", "sauce")) == AllergenAnswer(("eggs",), (), ("wonder dust",))


def test_a_dish_that_cannot_be_found_is_unknown() -> None:
    assert answer(our("our gravy", "gravy", "")).unknown == ("gravy",)


def test_of_a_dish_without_a_mark_nothing_is_known() -> None:
    toast = dish("toast", larder=stocked())
    plate = dish("plate", buy("1 carrot", "carrot"), our("our toast", "toast", "toast"), larder=stocked())
    links = Links(book([toast, plate]))
    said = AllergenAnswer((), (), ("Toast (no food is marked in it)",))
    assert allergens_of(links, stocked(), toast) == said
    assert allergens_of(links, stocked(), plate) == said
    text = card_text(dish_sheet(book([toast, plate]), stocked(), "toast"))
    assert "UNKNOWN" in text and "no allergen" not in text

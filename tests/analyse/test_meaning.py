"""What marks mean, one small dish each: parts, pairs, per plate, readings, and what a stranger to the tool writes."""

from __future__ import annotations

from fractions import Fraction

import pytest

from recipec.model.dish import Flag, Role
from recipec.model.settings import Settings
from tests.analyse.book import book, dish, slugs, use

CRUMB = """
    For the crumb:

    Toast [200 g rye bread] in a {pan} for <5 min>. -> crumb, %s

    To plate:

    Scatter [30 g of the crumb per plate] over [4 leeks] for <1 min per plate>.
    """


@pytest.mark.parametrize(("made", "expected"), [("120 g", []), ("90 g", ["used-up"]), ("150 g", ["left-over"])])
def test_a_taking_per_plate_is_taken_for_every_plate(made: str, expected: list[str]) -> None:
    found = dish(CRUMB % made)
    assert slugs(found.findings) == expected
    taken = use(found.value, "[30 g of the crumb per plate]")
    assert taken.fraction == Fraction(120, int(made.split()[0]))
    assert Flag.PER_PLATE in taken.flags


def test_a_part_of_what_is_there_is_not_bought_again() -> None:
    found = dish("Roll [1 lemon] on a {board}. Stir in [zest of the lemon] for <1 min attended>.")
    assert found.findings == ()
    zest = use(found.value, "[zest of the lemon]")
    assert (zest.role, zest.part) == (Role.HANDLE, "zest")


def test_a_part_of_nothing_is_not_introduced() -> None:
    assert slugs(dish("Squeeze in [juice of the lime] for <1 min attended>.").findings) == ["not-introduced"]


def test_another_part_of_the_same_pieces_has_their_number() -> None:
    found = dish("Grate [zest of 2 lemons] and squeeze in [juice of the lemons] for <1 min attended>.")
    assert found.findings == ()
    zest, juice = found.value.uses
    assert (juice.part, juice.amount) == ("juice", zest.amount)


def test_salt_and_pepper_are_two_things() -> None:
    found = dish("Season [4 eggs] with [salt and pepper, to taste] for <1 min attended>.")
    assert found.findings == ()
    assert [(item.name, item.flags) for item in found.value.uses[1:]] == [
        ("salt", {Flag.TO_TASTE}),
        ("pepper", {Flag.TO_TASTE}),
    ]


def test_an_egg_and_a_yolk_are_of_one_kind() -> None:
    found = dish("Whisk [1 egg plus 1 yolk] for <1 min attended>.")
    assert [(item.item, item.part) for item in found.value.uses] == [("egg", None), ("egg", "yolk")]


def test_either_choice_may_be_spoken_of() -> None:
    body = "Warm [120 ml double cream or 120 ml oat cream] for <2 min>. Fold in [the oat cream]."
    assert dish(body).findings == ()


@pytest.mark.parametrize(
    ("body", "expected"),
    [
        ("Roast [4 leeks] in the {oven} for <20 min>.", ["bad-reading"]),
        ("Roast [4 leeks] in {the oven} for <20 min>.", ["bad-reading"]),
        ("Set the {oven} to <200 °C>.\n\nRoast [4 leeks] in {the oven} for <20 min>.", []),
        ("Roast [4 leeks] in the {oven} at <gas 20> for <20 min>.", ["impossible-reading"]),
        ("Roast [4 leeks] in the {oven} at <1000 °C> for <20 min>.", ["impossible-reading"]),
        ("Fry [4 leeks] in a {fryer} at <180 °C fan> for <5 min>.", ["impossible-reading"]),
    ],
)
def test_ovens(body: str, expected: list[str]) -> None:
    assert slugs(dish(body).findings) == expected


@pytest.mark.parametrize("serves", ["0", "2.5"])
def test_a_dish_serves_whole_plates(serves: str) -> None:
    found = dish("Boil [4 eggs] for <6 min>.", head=f"Eggs\nserves: {serves}\n")
    assert slugs(found.findings) == ["bad-fact"]
    assert found.value.serves is None


def test_a_strangers_first_dish_is_silent() -> None:
    found = dish(
        """
    Ingredients:

    - [200 g plain flour]
    - [2 eggs]
    - [300 ml milk]

    Method:

    Whisk the flour with the eggs and the milk. Fry thin pancakes in butter until golden on both sides.

    Notes:

    They freeze well.
    """,
        head="Pancakes\n",
    )
    assert found.findings == ()


def test_cups_without_a_country_are_an_error_once_and_spoons_a_hint() -> None:
    unsaid = Settings()
    assert slugs(dish("Mix [2 cups flour] and [1 cup milk].", settings=unsaid).findings) == ["missing-fact"]
    assert slugs(dish("Mix [2 tbsp flour] and [1 tbsp milk].", settings=unsaid).findings) == ["measures-assumed"]
    assert slugs(dish("Mix [2 tsp flour].", settings=unsaid).findings) == []


def test_an_event_needs_a_day() -> None:
    _, findings = book({"supper.event": "Supper\nguests: 4\nserve: 19:30\n\nMain, <20:00>:\n\nBread and cheese."})
    assert slugs(findings) == ["bad-fact"]


def test_circles_are_printed_whole_and_once() -> None:
    def part(name: str, of: str) -> str:
        return f"{name}\nmakes: 1 l\n\nHeat [1 l our {of}] in a {{pot}} for <5 min>."

    _, findings = book(
        {"a.dish": part("Alpha", "beta"), "b.dish": part("Beta", "gamma"), "c.dish": part("Gamma", "alpha")}
    )
    assert slugs(findings) == ["going-in-circles"]
    assert "Alpha → Beta → Gamma → Alpha" in findings[0].message
    assert len(findings[0].labels) == 2

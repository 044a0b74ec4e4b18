"""Who is served what: every book here is invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from recipec.base.finding import Severity
from recipec.larder.ingredient import ALLERGENS, Presence
from recipec.plan.allergen_groups import groups_of
from recipec.plan.diets import Fits
from recipec.plan.guests import Guests
from recipec.plan.guests_findings import NEVER_ACCEPTED
from tests.plan.guest_books import HEAD, build, guests, slugs

YES, MAY, NO, UNKNOWN = Presence.CONTAINS, Presence.MAY_CONTAIN, Presence.NOT_IN_RECIPE, Presence.UNKNOWN


def said(found: Guests, row: int = 0) -> dict[str, Presence]:
    return {key: cell.presence for key, cell in found.served[row].row.cells.items()}


# ---------------------------------------------------------------- what is in it


def test_the_groups_are_the_regulations_in_its_order_and_with_its_numbers() -> None:
    annex = groups_of("uk").groups
    assert tuple(group.key for group in annex) == ALLERGENS
    assert [group.number for group in annex] == [str(number) for number in range(1, 15)]
    names = [group.words for group in groups_of("us-food-code").groups]
    assert names == (
        ["milk", "egg", "fish", "crustacean shellfish", "tree nuts", "wheat", "peanuts", "soybeans", "sesame"]
    )
    assert all(group.source for rules in ("uk", "us-food-code") for group in groups_of(rules).groups)
    # An unknown rule set gets the longer list.
    assert len(groups_of("moon").groups) == 14


def test_through_our_dishes_and_with_the_foods_that_bring_it(tmp_path: Path) -> None:
    found = guests(build(tmp_path, "Main, <13:00>:\n\n[our charred leeks]\n"))
    assert {key for key, presence in said(found).items() if presence is not NO} == {"milk", "nuts"}
    assert found.served[0].row.cells["nuts"].foods == ("hazelnuts",)
    (part,) = found.served[0].parts
    assert (part.title, part.cells["nuts"].presence, part.cells["milk"].presence) == ("Hazel pesto", YES, NO)


def test_a_version_has_its_own_row(tmp_path: Path) -> None:
    courses = "Main, <13:00>:\n\n[our charred leeks]\n[1 plate of our charred leeks, without hazelnuts, for seat 2]\n"
    found = guests(build(tmp_path, courses, ("seat 2: allergic to tree nuts",)))
    assert (said(found)["nuts"], said(found, 1)["nuts"]) == (YES, NO)
    assert found.served[0].seats == (1, 3, 4, 5, 6) and found.served[1].seats == (2,)


@pytest.mark.parametrize(
    ("order", "celery", "milk", "lupin"),
    [
        ("our smoky beans", UNKNOWN, UNKNOWN, UNKNOWN),
        ("our plain soup", NO, NO, NO),
        ("our cube soup", YES, MAY, NO),
        ("our lost toast", UNKNOWN, UNKNOWN, UNKNOWN),
    ],
)
def test_the_four_answers(tmp_path: Path, order: str, celery: Presence, milk: Presence, lupin: Presence) -> None:
    answers = said(guests(build(tmp_path, f"Main, <13:00>:\n\n[{order}]\n")))
    assert (answers["celery"], answers["milk"], answers["lupin"]) == (celery, milk, lupin)


def test_a_dish_that_is_not_in_the_book_is_unknown(tmp_path: Path) -> None:
    made = "Side of something\nserves: 6\n\nServe [200 g our moon dust] with [6 carrots].\n"
    found = guests(build(tmp_path, "Main, <13:00>:\n\n[our side of something]\n[our other dish]\n", side=made))
    assert set(said(found).values()) == set(said(found, 1).values()) == {UNKNOWN}


def test_the_american_list_tells_wheat_from_barley(tmp_path: Path) -> None:
    courses = "Main, <13:00>:\n\n[our beer bread]\n[our flat bread]\n"
    flat = "Flat bread\nserves: 6\n\nKnead [300 g plain flour] with [200 ml water].\n"
    assert said(guests(build(tmp_path, courses, flat=flat)))["gluten"] is YES
    found = guests(build(tmp_path, courses, safety="us-food-code", flat=flat))
    assert (said(found)["wheat"], said(found, 1)["wheat"]) == (NO, YES)
    # Whoever is allergic to gluten is told of the barley all the same.
    built = build(tmp_path, courses, ("seat 1: allergic to gluten",), safety="us-food-code", flat=flat)
    assert slugs(built) == ["allergen-served"] * 2


def test_diets_are_derived_and_unknown_is_no_fit(tmp_path: Path) -> None:
    courses = "Main, <13:00>:\n\n[our charred leeks]\n[our ham and eggs]\n[our smoky beans]\n"
    leeks, ham, beans = (served.row.diets for served in guests(build(tmp_path, courses)).served)
    assert (leeks["vegetarian"], leeks["vegan"], leeks["no pork"]) == (Fits.YES, Fits.NO, Fits.YES)
    assert (ham["vegetarian"], ham["pescatarian"], ham["no pork"]) == (Fits.NO, Fits.NO, Fits.NO)
    assert set(beans.values()) == {Fits.UNKNOWN}


# ---------------------------------------------------------------- who is served


@pytest.mark.parametrize(
    ("courses", "seats"),
    [
        ("[our plain soup]", [(1, 2, 3, 4, 5, 6)]),
        ("[our plain soup]\n[2 plates of our smoky beans, for seats 3 and 6]", [(1, 2, 3, 4, 5, 6), (3, 6)]),
        ("[4 plates of our plain soup]\n[2 plates of our smoky beans, for seats 3 and 6]", [(1, 2, 4, 5), (3, 6)]),
        (
            "[6 plates of our plain soup]\n[2 plates of our smoky beans, for seats 3 and 6]",
            [(1, 2, 3, 4, 5, 6), (3, 6)],
        ),
        # Nobody says who has which: anyone may have either.
        ("[3 plates of our plain soup]\n[3 plates of our smoky beans]", [(1, 2, 3, 4, 5, 6)] * 2),
    ],
)
def test_who_may_be_served(tmp_path: Path, courses: str, seats: list[tuple[int, ...]]) -> None:
    found = guests(build(tmp_path, f"Main, <13:00>:\n\n{courses}\n"))
    assert [served.seats for served in found.served] == seats


def test_a_spare_plate_is_nobodys_seat(tmp_path: Path) -> None:
    courses = "Main, <13:00>:\n\n[5 plates of our plain soup]\n[2 plates of our smoky beans, for seats 3 and 6]\n"
    found = guests(build(tmp_path, courses, head=f"{HEAD}spare: 1\n"))
    assert found.served[0].seats == (1, 2, 4, 5)


# ---------------------------------------------------------------- findings


@pytest.mark.parametrize(
    ("dish", "seat", "slug"),
    [
        ("charred leeks", "allergic to tree nuts", ["allergen-served"]),
        ("charred leeks", "allergic to hazelnuts", ["allergen-served"]),
        ("charred leeks", "dairy-free", ["allergen-served"]),
        ("charred leeks", "no nuts", ["allergen-served"]),
        ("charred leeks", "allergic to celery", []),
        ("cube soup", "allergic to milk", ["allergen-served"]),
        ("cube soup", "allergic to lupin", []),
        ("smoky beans", "allergic to celery", ["allergen-unknown"]),
        ("smoky beans", "gluten-free", ["allergen-unknown"]),
        ("lost toast", "allergic to milk", ["allergen-unknown"]),
        ("ham and eggs", "vegetarian", ["diet-not-kept"]),
        ("ham and eggs", "no pork", ["diet-not-kept"]),
        ("smoky beans", "vegan", ["diet-not-kept"]),
        ("plain soup", "vegan", []),
        ("charred leeks", "rather not hazelnuts", ["wish-not-kept"]),
        ("smoky beans", "rather not hazelnuts", []),
    ],
)
def test_what_a_seat_is_served(tmp_path: Path, dish: str, seat: str, slug: list[str]) -> None:
    built = build(tmp_path, f"Main, <13:00>:\n\n[our {dish}]\n", (f"seat 2: {seat}",))
    assert slugs(built) == slug


def test_a_plate_of_its_own_answers_it(tmp_path: Path) -> None:
    courses = "Main, <13:00>:\n\n[our charred leeks]\n[our charred leeks, without hazelnuts, for seat 2]\n"
    assert slugs(build(tmp_path, courses, ("seat 2: allergic to tree nuts",))) == []
    elsewhere = "Main, <13:00>:\n\n[5 plates of our charred leeks]\n[1 plate of our plain soup, for seat 2]\n"
    assert slugs(build(tmp_path, elsewhere, ("seat 2: allergic to tree nuts",))) == []


def test_what_is_left_out_by_name_only_is_still_there(tmp_path: Path) -> None:
    courses = "Main, <13:00>:\n\n[our charred leeks, without peanuts, for seat 2]\n"
    assert slugs(build(tmp_path, courses, ("seat 2: allergic to tree nuts",))) == ["allergen-served"]


def test_an_allergy_cannot_be_accepted_away_and_a_diet_can(tmp_path: Path) -> None:
    seats = (
        "seat 2: allergic to tree nuts",
        "seat 3: allergic to celery",
        "seat 4: vegetarian",
        "accept: diet-not-kept, asked at the table",
    )
    courses = "Main, <13:00>:\n\n[our charred leeks]\n[our smoky beans]\n[our ham and eggs]\n"
    built = build(tmp_path, courses, seats)
    dangers = [finding for finding in built.findings if finding.slug in NEVER_ACCEPTED]
    # Of the smoke paste nothing is known, and of the bacon not all, so that neither is safe for the one or for the other.
    assert sorted(finding.slug for finding in dangers) == ["allergen-served"] + ["allergen-unknown"] * 4
    assert all(finding.severity is Severity.DANGER and finding.accepted is None for finding in dangers)
    diets = [finding for finding in built.findings if finding.slug == "diet-not-kept"]
    assert diets and all(finding.accepted == "asked at the table" for finding in diets)


@pytest.mark.parametrize(
    ("prose", "seat", "slug"),
    [
        ("[our plain soup] with warm\nbread.", "allergic to gluten", ["allergen-unknown"]),
        ("[our plain soup] with warm bread.", "gluten-free", ["allergen-unknown"]),
        ("[our plain soup] with warm bread.", "vegan", []),
        ("[our plain soup], hot, on the table by the fire.", "allergic to gluten", []),
        ("[our plain soup], carrots and all.", "allergic to carrots", ["allergen-served"]),
        ("[our plain soup] with butter-yellow carrots.", "allergic to milk", []),
    ],
)
def test_food_the_menu_only_speaks_of(tmp_path: Path, prose: str, seat: str, slug: list[str]) -> None:
    assert slugs(build(tmp_path, f"Main, <13:00>:\n\n{prose}\n", (f"seat 2: {seat}",))) == slug


# ---------------------------------------------------------------- alternatives


@pytest.mark.parametrize(
    ("mark", "words"),
    [
        ("200 ml double cream or 200 ml oat cream", "takes away milk, and brings cereals containing gluten"),
        ("60 g butter or 60 ml olive oil", ""),
        ("60 g hazelnuts or 60 g almonds", ""),
        ("60 g butter or 60 g Aunt Bea's smoke paste", "what is in it is not all known (Aunt Bea's smoke paste)"),
        ("60 g butter or 60 g our hazel pesto", "brings nuts"),
    ],
)
def test_an_alternative_that_trades_one_allergen_for_another(tmp_path: Path, mark: str, words: str) -> None:
    dish = f"Sauce\nserves: 6\n\nWarm [{mark}] for <3 min attended>.\n"
    built = build(tmp_path, "Main, <13:00>:\n\n[our plain soup]\n", sauce=dish)
    found = [finding.message for finding in built.findings if finding.slug == "swap-brings-allergen"]
    assert len(found) == bool(words)
    assert not words or words in found[0]

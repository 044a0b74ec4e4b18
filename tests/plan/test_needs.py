"""What goes against a guest. Unknown is never free. The mystery sauce and the stock cube are invented."""

from __future__ import annotations

import pytest

from recipec.base.source import Source
from recipec.base.span import Span
from recipec.larder.ingredient import ALLERGENS, Presence
from recipec.model.event import Need, NeedKind
from recipec.plan.needs import Food, harms, new_harms, presence_of
from tests.plan.make import stocked

LARDER = stocked()
YES, MAY, NO, UNKNOWN = Presence.CONTAINS, Presence.MAY_CONTAIN, Presence.NOT_IN_RECIPE, Presence.UNKNOWN


def need(kind: NeedKind, what: str) -> Need:
    return Need(Span(Source("x.event", "x"), 0, 1), kind, what)


def food(name: str) -> Food:
    match = LARDER.find(name)
    return Food(name, None if match is None else match.ingredient)


def said(kind: NeedKind, what: str, name: str) -> Presence:
    return presence_of(need(kind, what), food(name), LARDER)


@pytest.mark.parametrize(
    ("what", "name", "presence"),
    [
        ("tree nuts", "hazelnuts", YES),
        ("nuts", "walnuts", YES),
        ("tree nuts", "carrots", NO),
        ("peanuts", "hazelnuts", NO),
        ("hazelnuts", "hazelnuts", YES),
        ("hazelnuts", "walnuts", NO),
        ("shellfish", "prawns", YES),
        ("shellfish", "mussels", YES),
        ("crustaceans", "mussels", NO),
        ("dairy", "butter", YES),
        ("lactose", "butter", YES),
        ("gluten", "beer", YES),
        ("wheat", "carrots", NO),
        ("eggs", "eggs", YES),
        ("milk", "stock cube", MAY),
        ("celery", "stock cube", YES),
        ("soya", "stock cube", UNKNOWN),
        ("milk", "mystery sauce", UNKNOWN),
        ("milk", "no such food", UNKNOWN),
        ("strawberries", "carrots", NO),
        ("strawberries", "stock cube", UNKNOWN),
        ("onion", "spring onions", YES),
        ("no such plant", "carrots", UNKNOWN),
    ],
)
def test_an_allergy(what: str, name: str, presence: Presence) -> None:
    assert said(NeedKind.ALLERGIC, what, name) is presence


@pytest.mark.parametrize(
    ("what", "free", "against", "unknown"),
    [
        (
            "vegetarian",
            ("carrots", "butter", "eggs", "honey"),
            ("bacon", "prawns", "gelatine", "parmesan"),
            ("nosuch",),
        ),
        ("vegan", ("carrots", "oil"), ("butter", "honey", "bacon"), ("nosuch",)),
        ("pescatarian", ("prawns", "butter"), ("bacon", "lard"), ("nosuch",)),
        ("no meat", ("prawns", "carrots"), ("duck",), ("nosuch",)),
        ("no fish", ("duck", "carrots"), ("prawns",), ("nosuch",)),
        ("no shellfish", ("carrots", "duck"), ("prawns", "mussels"), ("nosuch",)),
        ("no pork", ("duck", "carrots", "butter"), ("bacon", "lard", "pork belly"), ("gelatine", "nosuch")),
        ("no beef", ("duck", "bacon", "carrots"), ("beef",), ("gelatine", "nosuch")),
        ("no alcohol", ("carrots", "cider vinegar"), ("red wine", "beer", "brandy", "vanilla extract"), ("nosuch",)),
        ("gluten-free", ("carrots", "rice"), ("beer",), ("mystery sauce", "nosuch")),
        ("dairy-free", ("carrots", "oil"), ("butter",), ("mystery sauce", "nosuch")),
        ("no dairy", ("carrots",), ("butter",), ("nosuch",)),
        ("halal", ("carrots", "rice"), (), ("duck", "bacon", "red wine", "gelatine", "nosuch")),
        ("kosher", ("carrots", "rice"), (), ("duck", "prawns", "red wine", "butter", "nosuch")),
        ("fruitarian", (), (), ("carrots", "nosuch")),
    ],
)
def test_a_diet(what: str, free: tuple[str, ...], against: tuple[str, ...], unknown: tuple[str, ...]) -> None:
    for names, presence in ((free, NO), (against, YES), (unknown, UNKNOWN)):
        for name in names:
            assert said(NeedKind.DIET, what, name) is presence, (what, name)


def test_what_a_guest_would_rather_not_have_or_has_left_out() -> None:
    assert said(NeedKind.RATHER_NOT, "coriander", "coriander") is YES
    assert said(NeedKind.RATHER_NOT, "coriander", "cilantro") is YES
    assert said(NeedKind.WITHOUT, "no pork", "bacon") is YES
    assert said(NeedKind.WITHOUT, "hazelnuts", "toasted hazelnuts") is YES
    assert said(NeedKind.WITHOUT, "hazelnuts", "carrots") is NO


def test_no_group_is_ever_free_in_a_food_nobody_knows() -> None:
    for allergen in ALLERGENS:
        assert said(NeedKind.ALLERGIC, allergen, "no such food") is UNKNOWN
        assert said(NeedKind.ALLERGIC, allergen, "mystery sauce") is UNKNOWN


def test_every_food_of_the_larder_agrees_with_its_own_allergens() -> None:
    for item in LARDER.all():
        for allergen in ALLERGENS:
            assert presence_of(need(NeedKind.ALLERGIC, allergen), Food(item.name, item), LARDER) is item.presence(
                allergen
            )


def test_each_harm_once_and_only_what_is_new() -> None:
    vegetarian = need(NeedKind.DIET, "vegetarian")
    foods = [food("bacon"), food("carrots"), food("bacon"), food("nosuch")]
    assert [(harm.food.name, harm.presence) for harm in harms(vegetarian, foods, LARDER)] == [
        ("bacon", YES),
        ("nosuch", UNKNOWN),
    ]
    assert [harm.food.name for harm in new_harms(vegetarian, [food("nosuch")], foods, LARDER)] == ["bacon"]
    # What goes against a guest already is not eaten by them, whatever takes its place.
    assert new_harms(vegetarian, [food("duck")], foods, LARDER) == ()

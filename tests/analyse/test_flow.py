"""The bank account of food: rules 17 to 25 of the language, each with a dish of its own."""

from __future__ import annotations

from fractions import Fraction

import pytest

from recipec.model.dish import Flag, Role
from tests.analyse.book import dish, slugs, use

BUTTER = """
    For the butter:

    Melt [120 g butter] in a {pan} for <4 min>. -> brown butter, 100 g

"""


def test_a_good_dish_is_silent() -> None:
    found = dish(
        BUTTER
        + """
    To plate:

    Spoon [the brown butter] over [4 leeks] for <2 min attended>.
    """
    )
    assert found.findings == ()


def test_the_first_bare_mention_in_another_strand_takes_all() -> None:
    found = dish(
        BUTTER
        + """
    To plate:

    Spoon [the brown butter] over [4 leeks] for <2 min attended>. Baste with [the brown butter] again.
    """
    )
    first, second = [item for item in found.value.uses if item.thing == "brown butter"]
    assert (first.role, first.fraction) == (Role.TAKE, 1)
    assert second.role is Role.HANDLE
    assert found.findings == ()


def test_a_taking_from_a_third_strand_is_used_up() -> None:
    found = dish(
        BUTTER
        + """
    For the leeks:

    Toss [4 leeks] in [the brown butter] for <2 min attended>.

    To plate:

    Plate [the leeks] and pour [the brown butter] over for <2 min attended>.
    """
    )
    assert slugs(found.findings) == ["used-up"]
    assert any(label.text.startswith("100 g made here") for label in found.findings[0].labels)


def test_mentions_in_the_making_strand_take_nothing() -> None:
    found = dish(
        """
    For the base:

    Melt [50 g butter] in a {pan} for <2 min>. -> warm butter, 50 g

    Stir [80 g oats] into [the warm butter] for <2 min attended>. -> base

    To serve:

    Crumble [the base] over [4 pears] for <1 min attended>.
    """
    )
    assert found.findings == ()
    assert use(found.value, "[the warm butter]").role is Role.HANDLE


def test_shares_are_exact_and_the_rest_is_what_they_leave() -> None:
    found = dish(
        BUTTER
        + """
    For the crumb:

    Toast [80 g rye bread] in [1/3 of the brown butter] for <5 min>.

    To plate:

    Dress [4 leeks] with [the rest of the brown butter] and [the crumb] for <2 min attended>.
    """
    )
    assert found.findings == ()
    assert use(found.value, "[1/3 of the brown butter]").fraction == Fraction(1, 3)
    rest = use(found.value, "[the rest of the brown butter]")
    assert rest.fraction == Fraction(2, 3)
    assert rest.amount is not None
    total = rest.amount.total()
    assert total is not None
    assert total.base_high == Fraction(200, 3)


def test_absolute_shares_past_what_there_is_are_used_up_with_both_places() -> None:
    found = dish(
        """
    For the stock:

    Simmer [1 l water] in a {pot} for <20 min within reach>. -> broth, 600 g

    For the beans:

    Cook [200 g white beans] in [350 g of the broth] for <20 min within reach>.

    To serve:

    Loosen [the beans] with [300 g of the broth] for <1 min attended>.
    """
    )
    assert slugs(found.findings) == ["used-up"]
    finding = found.findings[0]
    assert "650 g of 600 g" in finding.message
    assert finding.span.text == "[300 g of the broth]"
    assert {label.span.text for label in finding.labels} == {"broth", "[350 g of the broth]"}


def test_an_absolute_share_of_what_was_never_measured_is_legal_alone() -> None:
    alone = """
    For the butter:

    Melt [120 g butter] in a {pan} for <4 min>. -> brown butter

    To plate:

    Spoon [2 tbsp of the brown butter] over [4 leeks] for <2 min attended>.
    """
    assert slugs(dish(alone).findings) == []
    mixed = alone.replace("over [4 leeks]", "over [4 leeks] with [half the brown butter]")
    assert slugs(dish(mixed).findings) == ["unit-mismatch"]


def test_half_of_bought_food_is_half() -> None:
    found = dish("Melt [200 g butter] in a {pan} for <2 min>, and pour off [half the butter]. -> melted butter")
    assert found.findings == ()
    assert use(found.value, "[half the butter]").fraction == Fraction(1, 2)


def test_food_introduced_twice_is_both_together() -> None:
    found = dish(
        "Rub [150 g butter] into [300 g flour] for <4 min attended>. Melt [50 g butter] and stir in [half the butter]."
    )
    taken = use(found.value, "[half the butter]").amount
    assert taken is not None
    total = taken.total()
    assert total is not None
    assert total.base_high == 100


@pytest.mark.parametrize(
    ("body", "expected"),
    [
        ("Dress [the leeks] for <2 min attended>.", ["not-introduced"]),
        ("Melt [60 g butter] for <2 min>. Finish with [butter].", ["bought-again"]),
        ("Season [4 eggs] with [salt] for <1 min attended>. Serve with [salt, to taste].", []),
        (
            "Melt [20 g brown butter] and [20 g garlic butter] for <2 min>, and fry [2 eggs] in [the butter].",
            ["ambiguous-name"],
        ),
        ("Fry [4 duck legs] for <5 min>, and turn [the legs].", []),
        ("Cook [3 eggs] for <5 min>. -> eggs, 150 g\n\nPeel [the eggs] for <2 min attended>.", ["name-reused"]),
    ],
)
def test_names(body: str, expected: list[str]) -> None:
    assert slugs(dish(body).findings) == expected


def test_made_and_never_used() -> None:
    found = dish(
        """
    For the crumb:

    Toast [80 g rye bread] in a {pan} for <5 min>.

    To plate:

    Dress [4 leeks] with [30 ml olive oil] for <2 min attended>.
    """
    )
    assert slugs(found.findings) == ["never-used"]
    assert found.findings[0].span.text == "crumb"


def test_discarded_things_are_waste() -> None:
    found = dish(
        """
    For the mussels:

    Steam [1 kg mussels] in a {pot} for <5 min>. -> mussel meat, 300 g; mussel liquor, 200 ml; shells, discarded

    To serve:

    Warm [the mussel meat] in [the mussel liquor] for <2 min attended>.
    """
    )
    assert found.findings == ()


def test_a_remainder_is_a_hint_with_its_amount() -> None:
    found = dish(
        """
    For the salsa:

    Blend [80 g parsley] with [120 ml olive oil] for <1 min>. -> salsa, 180 ml

    To serve:

    Spoon [120 ml of the salsa] over [2 eggs] for <1 min attended>.
    """
    )
    assert slugs(found.findings) == ["left-over"]
    assert found.findings[0].message.startswith("60 ml")


def test_a_strand_named_as_its_own_last_arrow_is_one_thing() -> None:
    found = dish(
        """
    For the crumb:

    Toast [80 g rye bread] in a {pan} for <5 min>. -> crumb, holds 2 h

    To plate:

    Scatter [the crumb] over [4 leeks] for <1 min attended>.
    """
    )
    assert found.findings == ()


def test_what_only_comes_further_down_is_pointed_at() -> None:
    found = dish(
        """
    For the leeks:

    Toss [4 leeks] with [the crumb] for <1 min attended>.

    For the crumb:

    Toast [80 g rye bread] for <5 min>.

    To plate:

    Set [the leeks] on plates with [the crumb] for <1 min attended>.
    """
    )
    assert slugs(found.findings) == ["not-introduced"]
    assert "further down" in found.findings[0].labels[0].text


def test_percentages_and_rates_are_reckoned_exactly() -> None:
    found = dish(
        """
    Rub [1.2 kg duck legs] with [salt, 2.2% of the duck legs] for <5 min attended>. Pour on [3 l water] and stir in
    [sugar, 10 g per litre of the water].
    """
    )
    assert found.findings == ()
    salt, sugar = (
        use(found.value, "[salt, 2.2% of the duck legs]"),
        use(found.value, "[sugar, 10 g per litre of the water]"),
    )
    assert salt.amount is not None
    assert sugar.amount is not None
    assert salt.amount.terms[0].base_high == Fraction(132, 5)
    assert sugar.amount.terms[0].base_high == 30


def test_alternatives_take_the_first_amount_only_by_weight_or_volume() -> None:
    found = dish("Whisk in [120 ml double cream or oat cream, cold, optional] for <1 min attended>.")
    cream = found.value.uses[0]
    assert cream.choices[0].amount == cream.amount
    assert cream.after == ("cold",)
    assert cream.flags == {Flag.OPTIONAL}
    assert slugs(dish("Whisk in [2 eggs or aquafaba] for <1 min attended>.").findings) == ["bad-number"]


def test_steps_wait_for_what_other_strands_make() -> None:
    found = dish(
        """
    For the crumb:

    Toast [80 g rye bread] for <5 min>.

    Cool it on a {tray} for <10 min alone>.

    For the leeks:

    Roast [6 leeks] in the {oven} at <220 °C> for <25 min>.

    To plate:

    Set [the leeks] on plates, scatter with [the crumb] for <1 min attended>.
    """
    )
    steps = found.value.steps()
    assert steps[-1].waits == (1, 2)
    assert found.value.strands[-1].needs == (0, 1)


def test_a_share_of_bought_food_waits_for_nothing() -> None:
    found = dish(
        """
    For the sauce:

    Set out [200 g butter] in a {bowl} for <1 min attended>.

    For the toast:

    Fry [4 slices bread] in [half the butter] for <3 min>.

    To serve:

    Serve [the toast] with [the sauce] for <1 min attended>.
    """
    )
    assert found.value.steps()[1].waits == ()

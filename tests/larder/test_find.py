"""Names: what is found, what is taken off the front, and what must never be matched."""

from __future__ import annotations

import subprocess
import sys

import pytest

from recipec.larder.larder import builtin
from recipec.larder.names import match_key, normal_name, singular

LARDER = builtin()


def key(words: str) -> str | None:
    match = LARDER.find(words)
    return None if match is None else match.ingredient.key


@pytest.mark.parametrize(
    ("words", "found"),
    [
        # The last word alone would mislead, over allergens or over the shop.
        ("coconut milk", "coconut milk"),
        ("almond milk", "almond drink"),
        ("soy milk", "soya drink"),
        ("butter beans", "butter bean"),
        ("peanut butter", "peanut butter"),
        ("cocoa butter", "cocoa butter"),
        ("butter lettuce", "lettuce"),
        ("butternut squash", "butternut squash"),
        ("buttermilk", "buttermilk"),
        ("buckwheat", "buckwheat"),
        ("eggplant", "aubergine"),
        ("egg noodles", "egg noodle"),
        ("cream of tartar", "cream of tartar"),
        ("cream cheese", "cream cheese"),
        ("ice cream", "ice cream"),
        ("half and half", "half and half"),
        ("oyster mushrooms", "oyster mushroom"),
        ("oyster sauce", "oyster sauce"),
        ("fish sauce", "fish sauce"),
        ("nutmeg", "nutmeg"),
        ("chestnuts", "chestnut"),
        ("chestnut mushrooms", "chestnut mushroom"),
        ("pine nuts", "pine nut"),
        ("rice vinegar", "rice vinegar"),
        ("rice flour", "rice flour"),
        ("celery salt", "celery salt"),
        ("mustard seeds", "mustard seed"),
        ("horseradish", "horseradish"),
        ("lemon thyme", "lemon thyme"),
        ("lemon grass", "lemongrass"),
        ("ground almonds", "ground almond"),
        ("5-spice", "five-spice"),
        ("00 flour", "00 flour"),
        ("70% chocolate", "dark chocolate"),
    ],
)
def test_traps(words: str, found: str) -> None:
    assert key(words) == found


@pytest.mark.parametrize(
    "words",
    [
        "tiger milk",
        "vegan butter",
        "smoked tofu",
        "pickled walnuts",
        "wild garlic",
        "leaves",
        "chopped",
        "",
        "salt and pepper",
    ],
)
def test_words_left_over_are_no_match(words: str) -> None:
    assert LARDER.find(words) is None


@pytest.mark.parametrize(
    ("words", "found", "before"),
    [
        ("chopped toasted hazelnuts", "hazelnut", ("chopped", "toasted")),
        ("toasted and chopped hazelnuts", "hazelnut", ("toasted", "chopped")),
        ("finely chopped red onions", "red onion", ("finely chopped",)),
        ("peeled squash", "butternut squash", ("peeled",)),
        ("melted butter", "butter", ("melted",)),
        ("Free-range eggs", "egg", ("free-range",)),
        ("freshly ground black pepper", "black pepper", ("freshly",)),
        ("skin-on chicken thighs", "chicken thigh", ("skin-on",)),
        ("ground almonds", "ground almond", ()),
        ("chopped tomatoes", "tomato", ("chopped",)),
    ],
)
def test_treatments_before_the_name(words: str, found: str, before: tuple[str, ...]) -> None:
    match = LARDER.find(words)
    assert match is not None
    assert (match.ingredient.key, match.before) == (found, before)


def test_the_unit_at_the_end_of_a_name() -> None:
    for words, found, unit in (
        ("garlic cloves", "garlic", "clove"),
        ("thyme sprigs", "thyme", "sprig"),
        ("celery sticks", "celery", "stick"),
        ("gelatine leaves", "gelatine", "leaf"),
        ("bay leaves", "bay leaf", None),
        ("cloves", "clove", None),
    ):
        match = LARDER.find(words)
        assert match is not None
        assert (match.ingredient.key, match.unit) == (found, unit)


def test_spelling_never_makes_two_things() -> None:
    for one, other in (
        ("spring onion", "scallions"),
        ("crème fraîche", "creme fraiche"),
        ("cre\u0300me frai\u0302che", "Crème Fraîche"),
        ("goat’s cheese", "goat's cheese"),
        ("courgettes", "zucchini"),
        ("self raising flour", "self-raising flour"),
        ("Bicarbonate  of\nsoda", "baking soda"),
        ("coriander", "cilantro"),
    ):
        assert key(one) == key(other) is not None


def test_names_of_things_made_in_a_dish() -> None:
    assert normal_name("Brown  Butter") == "brown butter"
    assert normal_name("roast potatoes") == "roast potato"
    assert normal_name("") == ""
    assert match_key("Crème-Fraîche") == "creme fraiche"


@pytest.mark.parametrize(
    ("plural", "single"),
    [
        ("lemons", "lemon"),
        ("leaves", "leaf"),
        ("berries", "berry"),
        ("radishes", "radish"),
        ("tomatoes", "tomato"),
        ("peaches", "peach"),
        ("chives", "chive"),
        ("olives", "olive"),
        ("cookies", "cookie"),
        ("asparagus", "asparagus"),
        ("couscous", "couscous"),
        ("watercress", "watercress"),
        ("bass", "bass"),
        ("peas", "pea"),
        ("egg", "egg"),
        ("swiss", "swiss"),
    ],
)
def test_singular(plural: str, single: str) -> None:
    assert singular(plural) == single
    assert singular(single) == single


def test_looking_up_loads_no_heavy_library() -> None:
    code = (
        "import sys; from recipec.larder.larder import builtin; import recipec.measure.show; builtin().find('chopped leeks');"
        "print([name for name in ('pint', 'babel', 'inflect', 'csv', 'lark', 'jinja2') if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"

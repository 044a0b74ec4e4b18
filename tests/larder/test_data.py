"""The built-in tables: complete, consistent, sourced, and honest about what is not known."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest

from recipec.larder.ingredient import ALLERGENS, ANIMAL, DEPARTMENTS, Ingredient, Presence
from recipec.larder.larder import builtin
from recipec.larder.names import match_key, normal_name
from recipec.larder.table_text import rows
from recipec.larder.tables import pours
from recipec.larder.treatments import loses, losses, treatments
from recipec.measure.quantity import Dimension
from recipec.measure.units import unit

LARDER = builtin()
ALL = LARDER.all()
SOURCE = re.compile(
    r"(SR28 \d{5}|from memory|common practice)(, less [\w ]+)?(, as [\w\- è']+)?(, edible part / yield)?"
)


def get(key: str) -> Ingredient:
    item = LARDER.get(key)
    assert item is not None, key
    return item


def test_there_is_enough_for_a_cookbook() -> None:
    assert len(ALL) >= 400
    assert {item.department for item in ALL} == set(DEPARTMENTS)


@pytest.mark.parametrize("item", ALL, ids=lambda item: item.key)
def test_a_row(item: Ingredient) -> None:
    assert item.key == normal_name(item.name) == item.name
    assert item.department in DEPARTMENTS
    assert set(item.allergens or ()) | set(item.may_contain) <= set(ALLERGENS)
    assert not set(item.allergens or ()) & set(item.may_contain)
    assert set(item.animal or ()) <= set(ANIMAL)
    assert item.source
    for figures in (item.densities, item.each, item.yields, item.parts):
        assert all(SOURCE.fullmatch(figure.source) for figure in figures)
    assert all(0 < density.value < 3 for density in item.densities)
    assert len({density.state for density in item.densities}) == len(item.densities)
    assert all(0 < each.grams < 10_000 for each in item.each)
    assert len({(each.unit, each.size) for each in item.each}) == len(item.each)
    assert all(unit(each.unit).dimension is Dimension.COUNT for each in item.each)
    assert all(0 < trim.left <= 1 for trim in item.yields)
    assert all(part.amount > 0 and part.unit in {"g", "ml"} for part in item.parts)
    for name in (item.name, item.plural, *item.aliases):
        match = LARDER.find(name)
        assert match is not None and match.ingredient is item, name


def test_no_name_means_two_things() -> None:
    meaning: dict[str, str] = {}
    for item in ALL:
        for name in {match_key(name) for name in (item.name, item.plural, *item.aliases)}:
            assert meaning.setdefault(name, item.key) == item.key, name


def test_every_figure_belongs_to_a_row() -> None:
    names = {item.name for item in ALL}
    for table in ("density.tsv", "each.tsv", "yield.tsv", "part.tsv"):
        assert {row[0] for row in rows(table)} <= names, table


def test_treatments_never_change_what_a_thing_is() -> None:
    words = treatments()
    # These make another thing of it, mostly with other allergens.
    for word in (
        "dried",
        "smoked",
        "pickled",
        "tinned",
        "candied",
        "salted",
        "ground",
        "vegan",
        "frozen",
        "sweetened",
        "malted",
    ):
        assert word not in words.words, word


# What a word in a name promises, and the names in which it promises nothing.
PROMISES = [
    ("milk", "milk", {"coconut milk"}),
    (
        "butter",
        "milk",
        {
            "peanut butter",
            "almond butter",
            "cashew butter",
            "hazelnut butter",
            "cocoa butter",
            "butter bean",
            "dried butter bean",
        },
    ),
    ("cream", "milk", {"cream of tartar", "coconut cream", "oat cream", "salad cream", "ice cream cone"}),
    ("cheese", "milk", set()),
    ("yogurt", "milk", {"coconut yogurt"}),
    ("egg", "eggs", set()),
    ("bread", "gluten", {"gluten-free bread"}),
    ("pasta", "gluten", set()),
    ("couscous", "gluten", set()),
    ("beer", "gluten", {"ginger beer", "root beer"}),
    ("barley", "gluten", set()),
    ("oat", "gluten", set()),
    ("celery", "celery", set()),
    ("celeriac", "celery", set()),
    ("mustard", "mustard", set()),
    ("sesame", "sesame", set()),
    ("tahini", "sesame", set()),
    ("peanut", "peanuts", set()),
    ("groundnut", "peanuts", set()),
    ("almond", "nuts", {"almond extract"}),
    ("hazelnut", "nuts", {"hazelnut liqueur"}),
    ("walnut", "nuts", set()),
    ("pecan", "nuts", set()),
    ("pistachio", "nuts", set()),
    ("cashew", "nuts", set()),
    ("macadamia", "nuts", set()),
    ("wine", "sulphites", {"rice wine"}),
    ("soy", "soybeans", set()),
    ("miso", "soybeans", set()),
    ("tofu", "soybeans", set()),
    ("prawn", "crustaceans", set()),
    ("crab", "crustaceans", {"crab apple", "crab stick"}),
    ("mussel", "molluscs", set()),
    ("squid", "molluscs", set()),
    ("oyster", "molluscs", {"oyster mushroom", "king oyster mushroom"}),
    ("salmon", "fish", set()),
    ("anchovy", "fish", set()),
    ("lupin", "lupin", set()),
]


@pytest.mark.parametrize(("word", "allergen", "except_for"), PROMISES)
def test_allergens_that_a_name_gives_away(word: str, allergen: str, except_for: set[str]) -> None:
    named = [item for item in ALL if word in item.name.split() and item.key not in except_for]
    assert named
    for item in named:
        assert item.presence(allergen) is Presence.CONTAINS, item.key


@pytest.mark.parametrize(
    "key",
    [
        "stock cube",
        "vegetable stock",
        "sausage",
        "dark chocolate",
        "curry powder",
        "chilli powder",
        "puff pastry",
        "bread",
        "worcestershire sauce",
        "mayonnaise",
        "baking powder",
        "bacon",
        "curry paste",
        "margarine",
    ],
)
def test_bought_compound_foods_are_never_called_free(key: str) -> None:
    item = get(key)
    assert item.open
    assert item.presence("lupin") is Presence.UNKNOWN
    assert Presence.NOT_IN_RECIPE not in {item.presence(allergen) for allergen in ALLERGENS}


def test_named_cereals_nuts_and_species() -> None:
    assert get("flour").named == ("wheat",)
    assert get("rye bread").named == ("rye", "wheat")
    assert get("brazil nut").named == ("brazil nut",)
    assert get("turbot").named == ("turbot",)
    assert get("pearl barley").named == ("barley",)


def test_animals() -> None:
    assert get("leek").animal == ()
    assert get("honey").animal == ("honey",)
    assert get("gelatine").animal == ("other-animal",)
    # Made with animal rennet by their rules, so no vegetarian's.
    assert get("parmesan").animal == ("dairy", "other-animal")
    assert get("worcestershire sauce").animal == ("fish",)
    assert get("stock cube").animal is None


def test_figures_by_state_size_and_unit() -> None:
    flour, egg, garlic, leek = get("flour"), get("egg"), get("garlic"), get("leek")
    cup = unit("us_cup").factor
    # USDA SR28 20081: a cup of flour is 125 g; 01123: a large egg 50 g, a small one 38 g; 11215: a clove 3 g; 11246: 44 % of a leek.
    assert flour.density() == 125 / cup
    assert flour.density(("sifted",)) != flour.density()
    assert flour.density(("never heard of",)) == flour.density()
    assert [egg.weight_each(), egg.weight_each("small"), egg.weight_each("gigantic")] == [50, 38, 50]
    assert garlic.weight_each(unit="clove") == 3
    assert garlic.weight_each(unit="loaf") is None
    assert (
        leek.left_after("trimmed") is not None and leek.left_after("boiled") == 1 and leek.left_after("boned") is None
    )
    assert get("samphire").density() is None


def test_parts() -> None:
    # USDA SR28 09152: a lemon yields 48 g of juice; 01124, 01125: white 33 g, yolk 17 g.
    juice = get("lemon").part("juice")
    assert juice is not None and juice.amount == 48 and (juice.unit, juice.keeps) == ("g", 48)
    egg = get("egg")
    white, yolk = egg.part("white"), egg.part("yolk")
    assert white is not None and yolk is not None and white.amount + yolk.amount == egg.weight_each()
    assert egg.part("zest") is None


@pytest.mark.parametrize(
    ("name", "grams"),
    # Edible part and refuse as read in SR28: 09150, 09159, 09200, 09037, 09040, 09266.
    [
        ("lemon", 58 / 0.53),
        ("lime", 67 / 0.84),
        ("orange", 131 / 0.73),
        ("avocado", 201 / 0.74),
        ("banana", 118 / 0.64),
        ("pineapple", 905 / 0.51),
    ],
)
def test_fruit_weighs_what_it_weighs_when_bought(name: str, grams: float) -> None:
    weight = get(name).weight_each()
    assert weight is not None and float(weight) == pytest.approx(grams)


def test_the_edible_part_is_the_same_in_all_tables() -> None:
    yields = {(source.partition(",")[0], percent) for _, _, percent, source in rows("yield.tsv")}
    known = {source for source, _ in yields}
    for name, _, _, _, _, edible, source in rows("each.tsv"):
        number = source.partition(",")[0]
        if edible and number in known:
            assert (number, edible) in yields, name


def test_a_whole_fruit_weighs_more_than_its_juice_and_its_peel() -> None:
    for name in ("lemon", "lime", "orange", "blood orange"):
        item = get(name)
        weight = item.weight_each()
        assert weight is not None and weight > sum(part.amount for part in item.parts if part.part in {"juice", "peel"})


def test_what_pours_is_told_from_what_is_weighed() -> None:
    wet = ("milk", "double cream", "olive oil", "soy sauce", "white wine", "maple syrup", "half and half")
    dry = ("flour", "cream cheese", "butter", "caster sugar", "cream of tartar", "polenta", "rice", "tomato")
    assert [name for name in (*wet, *dry) if pours(get(name).key)] == list(wet)


def test_a_yield_stands_once_under_whatever_word() -> None:
    seen: dict[tuple[str, frozenset[str]], str] = {}
    for name, treatment, *_ in rows("yield.tsv"):
        assert seen.setdefault((name, losses(treatment)), treatment) == treatment, (name, treatment)
    # More thrown away never leaves more.
    for item in ALL:
        for some in item.yields:
            for more in item.yields:
                if losses(some.treatment) < losses(more.treatment):
                    assert more.left <= some.left, (item.key, some.treatment, more.treatment)


def test_yields_of_several_treatments_together() -> None:
    apple, cod, leek = get("apple"), get("cod"), get("leek")
    # USDA SR28 09003 and 09004: core and stem 10 %, skin 13 %.
    assert [apple.left_after("cored"), apple.left_after("peeled"), apple.left_after("peeled", "cored")] == [
        Fraction(90, 100),
        Fraction(87, 100),
        Fraction(77, 100),
    ]
    assert apple.left_after("chopped", "neatly peeled and cored") == Fraction(77, 100)
    # Each known, both together not: the smaller, since it leaves out all that is thrown away.
    assert cod.left_after("filleted", "skinned") == Fraction(45, 100)
    assert leek.left_after("chopped") == 1 == leek.left_after()
    assert leek.left_after("trimmed", "boned") is None


def test_words_that_throw_part_of_it_away() -> None:
    for words in ("peeled", "neatly trimmed", "topped and tailed", "peeled, cored and sliced", "De-seeded", "boned"):
        assert loses(words), words
    for words in (
        "chopped",
        "finely sliced",
        "cut into 2 cm dice",
        "boneless",
        "unpeeled",
        "not peeled",
        "washed",
        "toasted",
        "",
    ):
        assert not loses(words), words
    assert losses("stoned, topped and tailed") == {"pitted", "trimmed"} == losses("stoned", "neatly topped", "tailed")
    # Water that was put in is no loss; what a tin gives off was paid for.
    assert not loses("boiled and drained") and not loses("soaked overnight", "drained") and loses("rinsed and drained")
    assert losses("boiled", "peeled", "drained") == {"peeled"}
    table = treatments()
    assert set(table.losses.values()) <= set(table.losses)
    for name, treatment, *_ in rows("yield.tsv"):
        assert loses(treatment), (name, treatment)

"""Densities of the larder, which are household measures, against a second source: what the food is made of.

Two published works that know nothing of cups: the chemical analysis of each food (SR28's nutrients), and the densities of water,
protein, fat, carbohydrate, fibre and ash (Choi and Okos 1986, as in the ASHRAE handbook), here as CoolProp 8.0 gives them at 20 °C
(`INCOMP::FoodWater` and the like; ethanol and water from its equations of state). What is in the glass then weighs
sum(parts) / sum(part / density). Liquids and pastes must agree within the spread stated by class; what stands in pieces or grains has
air between them: no more may be left out than loose heaps allow, and nothing may be heavier than solid.

Without a second source: figures marked "from memory" or "common practice", and how densely a cook packs powders, leaves and pieces.
"""

from __future__ import annotations

import importlib.util
from fractions import Fraction

import pytest

from recipec.larder.larder import builtin
from recipec.larder.tables import pours
from recipec.measure.units import unit
from tests.larder.sr28 import Figure, MadeOf, figures, read_made_of

SOLID = {
    "Water": Fraction("998.207"),
    "FoodProtein": Fraction("1319.532"),
    "FoodFat": Fraction("917.239"),
    "FoodCarbohydrate": Fraction("1592.891"),
    "FoodFiber": Fraction("1304.182"),
    "FoodAsh": Fraction("2418.187"),
    "Ethanol": Fraction("789.422"),
}
"""kg per m³ at 20 °C and one atmosphere: CoolProp 8.0."""

MADE = read_made_of()
FIGURES = [figure for figure in figures() if figure.table == "density" and figure.number in MADE]


def full(made: MadeOf) -> Fraction:
    """Grams per millilitre without air. What an analysis leaves over of 100 g is alcohol: SR28 gives it in a column of its own."""
    known = made.water + made.protein + made.fat + made.carbohydrate + made.ash
    alcohol = max(Fraction(0), 100 - known)
    room = (
        made.water / SOLID["Water"]
        + made.protein / SOLID["FoodProtein"]
        + made.fat / SOLID["FoodFat"]
        + (made.carbohydrate - made.fibre) / SOLID["FoodCarbohydrate"]
        + made.fibre / SOLID["FoodFiber"]
        + made.ash / SOLID["FoodAsh"]
        + alcohol / SOLID["Ethanol"]
    )
    return (known + alcohol) / room / 1000


def filled(figure: Figure) -> Fraction:
    """Our density over that of the food without air."""
    return figure.grams / (figure.count * unit(figure.unit).factor) / full(MADE[figure.number])


OILS = (
    "groundnut oil",
    "olive oil",
    "palm oil",
    "rapeseed oil",
    "sunflower oil",
    "vegetable oil",
    "sesame oil",
    "walnut oil",
    "coconut oil",
)
FATS = ("ghee", "lard", "duck fat", "goose fat", "chicken fat", "beef dripping", "vegetable shortening")
MILKS = (
    "milk",
    "skimmed milk",
    "semi-skimmed milk",
    "goat's milk",
    "buttermilk",
    "evaporated milk",
    "half and half",
    "yogurt",
    "whey",
)
CREAMS = (
    "single cream",
    "whipping cream",
    "double cream",
    "soured cream",
    "cream cheese",
    "butter",
    "salted butter",
    "ricotta",
)
JUICES = (
    "lemon juice",
    "lime juice",
    "orange juice",
    "grapefruit juice",
    "tangerine juice",
    "passion fruit juice",
    "apple juice",
    "grape juice",
    "cranberry juice",
    "pomegranate juice",
    "tomato juice",
    "coconut water",
    "passata",
    "tinned tomato",
)
SYRUPS = ("honey", "maple syrup", "treacle", "glucose syrup", "condensed milk", "jam", "apricot jam", "marmalade")
WINES = ("red wine", "white wine", "dessert wine", "sherry", "sake", "beer")
SPIRITS = ("gin", "vodka", "whisky", "rum", "brandy")
VINEGARS = ("cider vinegar", "red wine vinegar", "distilled vinegar", "balsamic vinegar")
STOCKS = ("chicken stock", "beef stock", "fish stock", "water")
EGGS = ("egg", "egg white", "egg yolk")
PASTES = (
    "peanut butter",
    "almond butter",
    "cashew butter",
    "tahini",
    "hummus",
    "mustard",
    "mayonnaise",
    "tomato purée",
    "tomato ketchup",
    "miso",
)
SAUCES = (
    "soy sauce",
    "tamari",
    "fish sauce",
    "oyster sauce",
    "hoisin sauce",
    "worcestershire sauce",
    "teriyaki sauce",
    "plum sauce",
    "hot sauce",
)

SPREAD = {
    "oils": (OILS, -1, 1),
    # Softened and spooned, with some air.
    "fats": (FATS, -6, 0),
    "milks": (MILKS, 0, 2),
    "creams": (CREAMS, -4, 3),
    "juices": (JUICES, -2, 3),
    "syrups": (SYRUPS, -1, 3),
    # Alcohol and water together take up to 4 % less room than apart.
    "wines": (WINES, -2, 2),
    "spirits": (SPIRITS, 0, 4),
    "vinegars": (VINEGARS, 0, 3),
    "stocks": (STOCKS, -3, 1),
    "eggs": (EGGS, -2, 0),
    "pastes": (PASTES, -8, 2),
    # Published to the gram of a spoon, and brewed salt and sugar differ by the maker.
    "sauces": (SAUCES, -13, 12),
}
"""Per cent below and above, by class: the spread found, to the next whole per cent."""


@pytest.mark.parametrize("kind", SPREAD)
def test_what_pours_weighs_what_it_is_made_of(kind: str) -> None:
    names, below, above = SPREAD[kind]
    found = {figure.own: filled(figure) for figure in FIGURES if figure.own in names}
    assert set(found) == set(names)
    off = {name: (value - 1) * 100 for name, value in found.items()}
    assert all(below <= value <= above for value in off.values()), {
        name: f"{float(value):+.1f} %" for name, value in off.items()
    }


def test_every_liquid_is_within_its_class_or_the_widest() -> None:
    for figure in FIGURES:
        if pours(figure.name) and figure.label not in {"whipped", "segmented"}:
            assert Fraction(87, 100) <= filled(figure) <= Fraction(112, 100), figure


# Grains of one size heaped: between random loose packing, 0.55 to 0.56 of the room, and random close packing, 0.64 (Scott 1960, from
# memory). Flat or long grains lie looser.
GRAINS = """
    salt; sugar; caster sugar; rice; basmati rice; short-grain rice; brown rice; quinoa; buckwheat; millet; sorghum; pearl barley;
    pot barley; wheat berry; lentil; red lentil; dried chickpea; dried kidney bean; dried black bean; dried pinto bean; dried haricot bean;
    dried white bean; dried soya bean; mung bean; urad bean; adzuki bean; black-eyed bean; split pea; sesame seed; linseed; hemp seed;
    toor dal; almond; hazelnut; peanut; macadamia; pine nut; couscous; poppy seed; fenugreek seed
"""


def test_grains_lie_as_heaps_do() -> None:
    names = {name.strip() for name in GRAINS.split(";")}
    found = {figure.own: filled(figure) for figure in FIGURES if figure.own in names}
    assert set(found) == names
    assert all(Fraction(49, 100) <= value <= Fraction(65, 100) for value in found.values()), found


def test_nothing_is_heavier_than_solid_or_lighter_than_leaves() -> None:
    for figure in FIGURES:
        if not pours(figure.name):
            # Three in a hundred is what a cup's level is worth; salsa's pieces are wetter than its analysis.
            assert Fraction(1, 100) < filled(figure) <= Fraction(104 if figure.name != "salsa" else 106, 100), figure


def test_powders_and_cut_food_never_weigh_more_than_a_paste() -> None:
    for figure in FIGURES:
        if figure.label in {"sifted", "ground", "grated", "shredded", "slivered", "crumbled"}:
            assert filled(figure) < Fraction(3, 4), figure


def test_states_of_one_thing_stand_in_their_order() -> None:
    larder = builtin()
    for less, more in (
        ("sifted", ""),
        ("sifted", "spooned"),
        ("spooned", "scooped"),
        ("", "packed"),
        ("whipped", ""),
        ("grated", "melted"),
    ):
        for item in larder.all():
            states = {known.state: known.value for known in item.densities}
            if {less, more} <= set(states):
                assert states[less] < states[more], (item.key, less, more)


@pytest.mark.skipif(
    importlib.util.find_spec("CoolProp") is None, reason="CoolProp, the published densities, is not installed"
)
@pytest.mark.parametrize("part", SOLID)
def test_the_parts_are_as_published(part: str) -> None:
    from CoolProp.CoolProp import PropsSI  # type: ignore[import-not-found]

    fluid = part if part in {"Water", "Ethanol"} else f"INCOMP::{part}"
    assert abs(PropsSI("D", "T", 293.15, "P", 101325, fluid) - float(SOLID[part])) < 0.001

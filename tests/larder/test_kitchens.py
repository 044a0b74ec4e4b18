"""The larder knows the staples of each kitchen by name, and the figures of what a menu needs most."""

from __future__ import annotations

from pathlib import Path

import pytest

from recipec.larder.ingredient import Ingredient
from recipec.larder.larder import builtin
from recipec.larder.treatments import loses

LARDER = builtin()
LINES = (Path(__file__).parent / "kitchens.tsv").read_text("utf-8").splitlines()
KITCHENS = dict(line.split("\t") for line in LINES if not line.startswith("#"))
del KITCHENS["kitchen"]

USUAL = """
    peeled potato; peeled onion; peeled carrot; peeled celeriac; peeled butternut squash; trimmed leek; peeled garlic; peeled ginger;
    trimmed green bean; podded pea; podded broad bean; podded and skinned broad bean; peeled and stoned mango; peeled and cored pineapple;
    peeled and seeded melon; stoned and peeled avocado; peeled orange; segmented orange; segmented lemon; segmented grapefruit;
    stoned peach; stoned plum; stoned cherry; stoned apricot; picked parsley; picked basil; picked coriander; picked mint; picked thyme;
    picked tarragon; peeled prawn; shelled mussel; shelled clam; boned chicken; skinned and boned chicken thigh; boned duck;
    filleted sea bass; filleted salmon; skinned salmon; boned lamb shoulder; boned leg of lamb; trimmed beef fillet; boned pork shoulder;
    drained chickpea; drained cannellini bean; drained kidney bean; drained tinned tomato; drained tinned tuna; drained olive;
    stoned olive; hulled strawberry; cored apple; peeled and cored apple; peeled and cored pear; trimmed asparagus; trimmed artichoke;
    seeded red pepper; peeled beetroot; trimmed fennel; trimmed spinach; picked watercress; trimmed cauliflower; trimmed broccoli;
    peeled cucumber; shelled egg; picked crab; cleaned squid; peeled shallot; trimmed rhubarb; peeled swede; husked sweetcorn
"""


def known(words: str) -> Ingredient:
    match = LARDER.find(words)
    assert match is not None and not match.before, words
    return match.ingredient


@pytest.mark.parametrize("kitchen", KITCHENS)
def test_staples_of_a_kitchen(kitchen: str) -> None:
    keys = [known(words).key for words in KITCHENS[kitchen].split("; ")]
    assert len(set(keys)) >= 50


def test_enough_figures() -> None:
    items = LARDER.all()
    assert sum(bool(item.densities) for item in items) >= 400
    assert sum(bool(item.yields) for item in items) >= 250
    assert sum(bool(item.each) for item in items) >= 250


@pytest.mark.parametrize("words", [" ".join(words.split()) for words in USUAL.split(";")])
def test_the_usual_yields(words: str) -> None:
    match = LARDER.find(words)
    assert match is not None and loses(*match.before)
    left = match.ingredient.left_after(*match.before)
    assert left is not None and left < 1


@pytest.mark.parametrize(
    ("words", "states"),
    [
        ("flour", ("spooned", "scooped", "sifted")),
        ("icing sugar", ("sifted",)),
        ("brown sugar", ("packed",)),
        ("butter", ("melted",)),
        ("cheddar", ("grated", "diced", "melted")),
        ("parmesan", ()),
        ("walnut", ("chopped", "ground")),
        ("carrot", ("chopped", "grated", "sliced")),
        ("onion", ("chopped", "sliced")),
        ("double cream", ("whipped",)),
    ],
)
def test_densities_by_state(words: str, states: tuple[str, ...]) -> None:
    item = known(words)
    values = [item.density((state,)) for state in states] + [item.density()]
    assert None not in values[: len(states)]
    assert len({*values}) == len(values) or words == "walnut"

"""The larder's allergens against a table written without it: `foods_allergens.tsv`, from SR28's descriptions and Annex II's own groups.

What counts is a false "not in recipe": never said of what a food contains, nor of what the table leaves open. That the larder is more
careful than the table is no fault; how often it is stands in `foods_allergens.txt`, beside the foods it does not know by that name, of
which everything is unknown.
"""

from __future__ import annotations

from collections import Counter
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import NamedTuple

from recipec.larder.ingredient import ALLERGENS, Ingredient, Presence
from recipec.larder.larder import builtin
from recipec.plan.allergen_groups import groups_of

HERE = Path(__file__).parent
TABLE = HERE / "foods_allergens.tsv"
COUNTS = HERE / "foods_allergens.txt"

_KEYS = MappingProxyType({"egg": "eggs", "soy": "soybeans"})


class Food(NamedTuple):
    """A row. `contains` and `open` by the larder's keys; `kinds` are the cereals and nuts named."""

    name: str
    contains: frozenset[str]
    kinds: frozenset[str]
    open: frozenset[str]

    def expected(self, allergen: str) -> str:
        """`contains`, `open` or `free`."""
        if allergen in self.contains:
            return "contains"
        return "open" if allergen in self.open or "*" in self.open else "free"


@cache
def foods() -> tuple[Food, ...]:
    """Every row of the table."""
    found = []
    for line in TABLE.read_text("utf-8").splitlines():
        if line.startswith(("#", "food\t")):
            continue
        name, _, _, contains, left_open = line.split("\t")
        held = [word.partition(":") for word in contains.split(", ") if word]
        found.append(
            Food(
                name,
                frozenset(_KEYS.get(group, group) for group, _, _ in held if group != "us-nuts"),
                frozenset(kind for _, _, kind in held if kind),
                frozenset(_KEYS.get(word, word) for word in left_open.split(", ") if word),
            )
        )
    return tuple(found)


def known() -> tuple[tuple[Food, Ingredient], ...]:
    """The foods that the larder knows by the table's name."""
    larder = builtin()
    matched = ((food, larder.find(food.name)) for food in foods())
    return tuple((food, match.ingredient) for food, match in matched if match is not None)


def test_the_table_is_large_enough_and_says_each_food_once() -> None:
    names = [food.name for food in foods()]
    assert len(names) == len(set(names))
    assert len(known()) >= 300
    assert all(food.contains | food.open <= {*ALLERGENS, "*"} for food in foods())
    seen = Counter(allergen for food, _ in known() for allergen in food.contains)
    assert set(seen) == set(ALLERGENS), "every group has foods that contain it"


def test_nothing_is_falsely_called_not_in_the_recipe() -> None:
    false = [
        f"{food.name} ({item.name}): {allergen} is {food.expected(allergen)}"
        for food, item in known()
        for allergen in ALLERGENS
        if food.expected(allergen) != "free" and item.presence(allergen) is Presence.NOT_IN_RECIPE
    ]
    assert false == []


def test_nothing_is_said_to_contain_what_it_is_free_of() -> None:
    false = [
        f"{food.name}: {allergen}"
        for food, item in known()
        for allergen in ALLERGENS
        if food.expected(allergen) == "free" and item.presence(allergen) is Presence.CONTAINS
    ]
    assert false == []


def test_cereals_and_nuts_are_named_as_the_regulation_wants() -> None:
    unnamed = {food.name: food.kinds - {word for kind in item.named for word in kind.split()} for food, item in known()}
    assert {name: kinds for name, kinds in unnamed.items() if kinds} == {}


def test_counts_cell_by_cell(update: bool) -> None:
    counted = Counter((food.expected(one), item.presence(one).value) for food, item in known() for one in ALLERGENS)
    answers = [presence.value for presence in Presence]
    lines = ["table     larder: " + ", ".join(answers)]
    for said in ("contains", "open", "free"):
        lines.append(f"{said:<10}{' '.join(f'{counted[said, answer]:>14}' for answer in answers)}")
    false = counted["contains", "not in recipe"] + counted["open", "not in recipe"]
    careful = counted["free", "may contain"] + counted["free", "unknown"]
    lines += [
        f"{len(foods())} foods, {len(known())} of them in the larder, {len(known()) * len(ALLERGENS)} cells",
        f'false "not in recipe": {false}',
        f"more careful than the table (may contain or unknown where it says free): {careful}",
        "not in the larder by that name, so unknown throughout: "
        + ", ".join(food.name for food in foods() if builtin().find(food.name) is None),
    ]
    text = "\n".join(lines) + "\n"
    if update:
        COUNTS.write_text(text, encoding="utf-8", newline="\n")
    assert COUNTS.read_text("utf-8") == text


# The nine of FALCPA and FASTER, said here by hand from the Acts: wheat alone of the cereals, crustaceans without molluscs, tree nuts by the
# FDA's list of them, sesame since 2023. Celery, mustard, lupin, sulphites and molluscs are none of them.
US_NINE = ("milk", "eggs", "fish", "crustaceans", "nuts", "wheat", "peanuts", "soybeans", "sesame")
_WHEATS = frozenset(("wheat", "spelt", "khorasan", "kamut", "einkorn", "emmer", "durum"))


def us_expected(food: Food, group: str) -> str:
    """`contains`, `open` or `free` by the United States' list; a cereal that is not named leaves wheat open."""
    if group != "wheat":
        return food.expected(group)
    if "gluten" in food.contains:
        cereals = {kind.split()[-1] for kind in food.kinds} & {*_WHEATS, "barley", "rye", "oat", "oats", "triticale"}
        if cereals & _WHEATS:
            return "contains"
        return "open" if not cereals or "gluten" in food.open or "*" in food.open else "free"
    return food.expected("gluten")


def test_by_the_united_states_nine_nothing_is_falsely_called_not_in_the_recipe() -> None:
    groups = {group.key.removeprefix("gluten:"): group for group in groups_of("us-food-code").groups}
    assert sorted(groups) == sorted(US_NINE)
    counted = Counter(
        (us_expected(food, one), groups[one].presence(item).value) for food, item in known() for one in US_NINE
    )
    false = [
        f"{food.name} ({item.name}): {one} is {us_expected(food, one)}"
        for food, item in known()
        for one in US_NINE
        if us_expected(food, one) != "free" and groups[one].presence(item) is Presence.NOT_IN_RECIPE
    ]
    assert false == []
    assert sum(counted.values()) == len(known()) * len(US_NINE)
    over = [
        f"{food.name}: {one}"
        for food, item in known()
        for one in US_NINE
        if us_expected(food, one) == "free" and groups[one].presence(item) is Presence.CONTAINS
    ]
    assert over == []
    # Pine nuts are a tree nut by the FDA's list alone.
    pine = builtin().find("pine nuts")
    assert pine is not None and groups["nuts"].presence(pine.ingredient) is not Presence.NOT_IN_RECIPE

"""What a food counts as where cooking, cooling and holding are judged, by the table `data/food_kinds.tsv` and the larder."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from enum import StrEnum
from fractions import Fraction
from functools import cache
from types import MappingProxyType

from recipec.larder.ingredient import Ingredient
from recipec.larder.names import normal_name
from recipec.measure.quantity import Dimension
from recipec.model.dish import Use
from recipec.plan.figures import rows


class Kind(StrEnum):
    """Of food that must be cooked, or can be. NONE asks for nothing. READY is eaten as bought; SMOKED too, though it was never cooked;
    CURED is salted meat that frying cooks."""

    NONE = "none"
    POULTRY = "poultry"
    GAME = "game"
    MINCED = "minced"
    WHOLE = "whole"
    MEAT = "meat"
    OFFAL = "offal"
    FISH = "fish"
    SHELLFISH = "shellfish"
    EGG = "egg"
    STUFFED = "stuffed"
    CURED = "cured"
    SMOKED = "smoked"
    READY = "ready"


RAW = frozenset(Kind) - {Kind.NONE, Kind.READY, Kind.SMOKED}
"""Kinds that are raw until something heats them."""

NEEDS_CORE = RAW - {Kind.CURED, Kind.SHELLFISH}
"""Kinds whose inside is measured: a clam shows that it is done by opening, bacon by its colour."""

_MEAT = frozenset({Kind.WHOLE, Kind.MEAT})
_COOKED = frozenset(
    "cooked boiled hard-boiled roasted roast poached grilled fried smoked confit tinned canned pasteurised steamed".split()
)
_MINCED = frozenset("minced ground tenderised tenderized injected needled".split())
_STUFFED = frozenset({"stuffed"})
_HERE = frozenset({"butcher", "fish", "dairy and eggs", "frozen"})


@cache
def _table() -> Mapping[str, Kind]:
    return MappingProxyType({name: Kind(kind) for name, kind, _ in rows("food_kinds.tsv")})


@cache
def _by_name(name: str) -> Kind | None:
    table = _table()
    words = name.split()
    for start in range(len(words)):
        ending = " ".join(words[start:])
        if ending in table:
            return table[ending]
    # `duck breast` is named for the bird, `rack of lamb` for what it is of.
    return next((table[word] for word in reversed(words) if word in table), None)


def kind_of(use: Use, item: Ingredient | None) -> Kind:
    """What a mark counts as. A name that the larder does not know is judged by its words alone."""
    found = _bought_as(use.name if item is None else item.key, item)
    done = {word for text in (*use.before, *use.after) for word in normal_name(text).split()}
    if found in RAW and found is not Kind.CURED:
        if done & _COOKED:
            return Kind.READY
        if done & _STUFFED:
            return Kind.STUFFED
        if found in _MEAT and done & _MINCED:
            return Kind.MINCED
    return found


def _bought_as(name: str, item: Ingredient | None) -> Kind:
    if item is None:
        words = normal_name(name).split()
        if set(words) & _COOKED or set(words) & _NOT_FOOD_OF_IT:
            return Kind.NONE
        return _by_name(" ".join(words)) or Kind.NONE
    if item.department not in _HERE and not (item.department == "other" and item.animal):
        return Kind.NONE
    if item.animal is not None and not item.animal:
        return Kind.NONE
    found = _by_name(item.key)
    if item.department == "dairy and eggs":
        return found if found in (Kind.EGG, Kind.READY) else Kind.NONE
    if found is not None:
        return found
    allergens = item.allergens or ()
    if "fish" in allergens:
        return Kind.FISH
    if "crustaceans" in allergens or "molluscs" in allergens:
        return Kind.SHELLFISH
    return Kind.MINCED if item.animal and "meat" in item.animal else Kind.NONE


# Names the larder does not know that only speak of an animal: egg noodles, chicken salt, fish sauce.
_NOT_FOOD_OF_IT = frozenset(
    "noodle noodles salt sauce seasoning flavour cube powder paste crisps wash free vegan plant tomato plum".split()
)

_SPOILS = frozenset({"dairy", "egg", "meat", "fish"})
_KEEPS = frozenset(
    "butter ghee cheese cheddar parmesan pecorino comté gruyère manchego gouda edam emmental margarine".split()
)


def is_rice(item: Ingredient | None, name: str) -> bool:
    """Cooked rice spoils faster than it looks."""
    words = normal_name(name if item is None else item.key).split()
    return words[-1:] == ["rice"]


def spoils(use: Use, item: Ingredient | None) -> bool:
    """Whether what holds it must be kept cold or hot: meat, fish, eggs, milk and cream, cooked rice. Butter and hard cheese keep."""
    if is_rice(item, use.name) or kind_of(use, item) not in (Kind.NONE, Kind.CURED):
        return True
    if item is None or not item.animal or not _SPOILS & set(item.animal):
        return False
    return item.department in _HERE and not _KEEPS & set(item.key.split())


_FRYING_OIL_ML = 30
"""Common practice: two spoons of oil are for the pan, and cover nothing."""


def is_oil(item: Ingredient | None) -> bool:
    """Oil, or a fat that something may lie under."""
    return item is not None and item.key.split()[-1] in ("oil", "fat", "lard", "dripping")


def covers(bought: Iterable[tuple[Use, Ingredient | None]]) -> bool:
    """Whether there is so much oil or fat that something might be kept under it; an amount that can't be read is taken for much."""
    total = Fraction(0)
    for use, item in bought:
        if not is_oil(item):
            continue
        amount = None if use.amount is None else use.amount.total()
        if amount is None:
            continue
        if amount.unit.dimension is Dimension.COUNT:
            return True
        total += amount.base_high
    return total > _FRYING_OIL_ML

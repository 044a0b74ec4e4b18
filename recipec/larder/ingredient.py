"""What the larder knows of one ingredient. Frozen values, exact figures, each with its source."""

from __future__ import annotations

from enum import StrEnum
from fractions import Fraction
from typing import NamedTuple

from recipec.larder.treatments import losses

DEPARTMENTS = (
    "produce",
    "butcher",
    "fish",
    "dairy and eggs",
    "bakery",
    "dry goods",
    "spices",
    "frozen",
    "drinks",
    "other",
)
"""Where it is bought, in the order of a market list."""

ALLERGENS = (
    "gluten",
    "crustaceans",
    "eggs",
    "fish",
    "peanuts",
    "soybeans",
    "milk",
    "nuts",
    "celery",
    "mustard",
    "sesame",
    "sulphites",
    "lupin",
    "molluscs",
)
"""Regulation (EU) 1169/2011 Annex II, in its order, by short keys."""

ANIMAL = ("meat", "fish", "dairy", "egg", "honey", "other-animal")
"""What animals give; `fish` is everything from the water, `other-animal` gelatin, rennet and the like."""


class Presence(StrEnum):
    """What may be said of an allergen. Unknown is never free."""

    CONTAINS = "contains"
    MAY_CONTAIN = "may contain"
    NOT_IN_RECIPE = "not in recipe"
    UNKNOWN = "unknown"


class Density(NamedTuple):
    """Grams per millilitre in a state ('' the usual one; `sifted`, `chopped`, `packed`)."""

    state: str
    value: Fraction
    source: str


class Each(NamedTuple):
    """Grams of one as it is bought (an egg without its shell): a `piece`, or a counted unit of it (`clove`, `bunch`); `size`
    '' is the usual one."""

    unit: str
    size: str
    grams: Fraction
    source: str


class Trim(NamedTuple):
    """The part left by a treatment (edible over as purchased), from 0 to 1."""

    treatment: str
    left: Fraction
    source: str


class PartOf(NamedTuple):
    """A part of one piece (`juice`, `zest`, `white`): `amount` of `unit` (`g` or `ml`), and the hours it keeps chilled (None unknown)."""

    part: str
    amount: Fraction
    unit: str
    keeps: int | None
    source: str


class Ingredient(NamedTuple):
    """One thing to buy.

    `allergens` are keys of `ALLERGENS`, None where nothing is known. `open` marks a list that the packet must complete:
    what it does not name is unknown. `named` says which cereal, nut or species (`wheat`, `hazelnut`). `animal` are words of
    `ANIMAL`: () is from no animal, None unknown. `source` is where the allergens come from; every figure has its own.
    """

    key: str
    name: str
    plural: str
    aliases: tuple[str, ...]
    department: str
    allergens: tuple[str, ...] | None
    open: bool
    may_contain: tuple[str, ...]
    named: tuple[str, ...]
    animal: tuple[str, ...] | None
    source: str
    densities: tuple[Density, ...] = ()
    each: tuple[Each, ...] = ()
    yields: tuple[Trim, ...] = ()
    parts: tuple[PartOf, ...] = ()

    def density(self, states: tuple[str, ...] = ()) -> Fraction | None:
        """Grams per millilitre in the first state that is known, else in the usual state; None when unknown."""
        for state in (*states, ""):
            for density in self.densities:
                if density.state == state:
                    return density.value
        return None

    def weight_each(self, size: str | None = None, unit: str = "piece") -> Fraction | None:
        """Grams of one `unit` of it. A size without a figure of its own weighs as the usual one; None when unknown."""
        for wanted in (size or "", ""):
            for each in self.each:
                if each.unit == unit and each.size == wanted:
                    return each.grams
        return None

    def left_after(self, *treatments: str) -> Fraction | None:
        """The part left by all these treatments together, from 0 to 1; 1 when none of them loses anything, None when unknown.

        A figure for the very combination (`peeled and cored`) comes first. Else the smallest of the figures of each, since
        published yields leave out all that is thrown away, whichever word is said; one without a figure makes it unknown.
        """
        wanted = losses(*treatments)
        known = {losses(trim.treatment): trim.left for trim in reversed(self.yields)}
        if not wanted or wanted in known:
            return known.get(wanted, Fraction(1))
        single = [known.get(frozenset({word})) for word in sorted(wanted)]
        return None if None in single else min(left for left in single if left is not None)

    def part(self, part: str) -> PartOf | None:
        """What one piece gives of a part; None when unknown."""
        return next((figure for figure in self.parts if figure.part == part), None)

    def presence(self, allergen: str) -> Presence:
        """What may be said of one of `ALLERGENS`."""
        if self.allergens is not None and allergen in self.allergens:
            return Presence.CONTAINS
        if allergen in self.may_contain:
            return Presence.MAY_CONTAIN
        return Presence.UNKNOWN if self.allergens is None or self.open else Presence.NOT_IN_RECIPE

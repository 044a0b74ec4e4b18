"""One row of a book's larder.csv, and how it lies over what is known already."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from recipec.larder.ingredient import Density, Each, Ingredient, PartOf, Trim
from recipec.larder.names import normal_name

OWN = "the book's larder.csv"
"""The source of a figure whose row names none."""


class LarderRow(NamedTuple):
    """A row as read. None, or () in the lists, is a blank cell: nothing said.

    `densities` are (state, g per ml), `each` (unit, size, g), `yields` (treatment, part left from 0 to 1), `parts` (part, amount of
    one piece, `g` or `ml`). `allergens` () says that there are none.
    """

    name: str
    plural: str | None = None
    aliases: tuple[str, ...] = ()
    department: str | None = None
    densities: tuple[tuple[str, Fraction], ...] = ()
    each: tuple[tuple[str, str, Fraction], ...] = ()
    allergens: tuple[str, ...] | None = None
    open: bool = False
    may_contain: tuple[str, ...] = ()
    named: tuple[str, ...] = ()
    animal: tuple[str, ...] | None = None
    source: str | None = None
    yields: tuple[tuple[str, Fraction], ...] = ()
    parts: tuple[tuple[str, Fraction, str], ...] = ()

    def over(self, known: Ingredient | None, like: Ingredient | None = None) -> Ingredient:
        """The ingredient: this row's cells over those of `known`.

        `like` is what the name meant so far. It lends a new thing its department and figures, never its allergens.
        """
        source = self.source or OWN
        if known is None:
            known = Ingredient(
                key=normal_name(self.name),
                name=self.name,
                plural=self.name,
                aliases=(),
                department="other",
                allergens=None,
                open=True,
                may_contain=(),
                named=(),
                animal=None,
                source=source,
            )
            if like is not None:
                known = known._replace(
                    department=like.department,
                    densities=like.densities,
                    each=like.each,
                    yields=like.yields,
                    parts=like.parts,
                )
        item = known._replace(
            plural=self.plural or known.plural,
            aliases=(*known.aliases, *self.aliases),
            department=self.department or known.department,
            animal=known.animal if self.animal is None else self.animal,
            densities=(*(Density(state, value, source) for state, value in self.densities), *known.densities),
            each=(*(Each(unit, size, grams, source) for unit, size, grams in self.each), *known.each),
            yields=(*(Trim(treatment, left, source) for treatment, left in self.yields), *known.yields),
            parts=(*(_part(part, amount, unit, known, source) for part, amount, unit in self.parts), *known.parts),
        )
        if self.allergens is None and not self.may_contain:
            return item
        return item._replace(
            allergens=self.allergens,
            open=self.open or self.allergens is None,
            may_contain=self.may_contain,
            named=self.named,
            source=source,
        )


def _part(part: str, amount: Fraction, unit: str, known: Ingredient, source: str) -> PartOf:
    # How long it keeps is no matter of how much there is of it.
    before = known.part(part)
    return PartOf(part, amount, unit, None if before is None else before.keeps, source)

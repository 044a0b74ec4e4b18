"""What the home page is searched by: every dish's title, course, ingredients, and the groups of allergens that it is free of."""

from __future__ import annotations

from recipec.emit.cookbook import by_title, index_names, much
from recipec.emit.desk import Desk
from recipec.emit.jsonld import embedded
from recipec.emit.request import Paper
from recipec.larder.ingredient import ALLERGENS
from recipec.measure.exported import Data
from recipec.plan.allergens import AllergenAnswer

FIND_DATA = "assets/dishes.js"


def free_of(answer: AllergenAnswer) -> tuple[int, ...]:
    """Places in `ALLERGENS` of the groups of which nothing is in the recipe. Where anything is unknown, of none: unknown is never free."""
    if answer.unknown:
        return ()
    there = {*answer.contains, *answer.may_contain}
    return tuple(place for place, group in enumerate(ALLERGENS) if group not in there)


def find_data(desk: Desk) -> tuple[Paper, ...]:
    """A script that names all of it `Dishes`, by title: [title, page, how much, course, ingredients, groups it is free of]."""
    rows: list[Data] = [
        [
            sheet.title,
            desk.paths.dish(sheet.key),
            much(sheet),
            sheet.course,
            list(index_names(desk, sheet)),
            list(free_of(sheet.allergens)),
        ]
        for sheet in by_title(desk.sheets.values())
    ]
    data = embedded({"rows": rows, "groups": list(ALLERGENS)})
    return (Paper(FIND_DATA, f"var Dishes={data};\n".encode()),)

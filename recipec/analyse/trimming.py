"""The comma rule where the larder has no figure: trimmed before weighing, and nobody knows how much was bought."""

from __future__ import annotations

from collections.abc import Iterable

from recipec.analyse.context import Notes
from recipec.analyse.plain import amount_words
from recipec.larder.larder import Larder
from recipec.larder.treatments import loses
from recipec.measure.quantity import Dimension
from recipec.model.dish import Role, Use

_WEIGHED = (Dimension.MASS, Dimension.VOLUME)


def check_yields(uses: Iterable[Use], larder: Larder, notes: Notes) -> None:
    """Notes every bought amount, by weight or volume, of what lost a part of it before it was measured and has no known yield.

    Pieces are whole ones whatever was done to them, and a thing that the larder does not know is bought by the name it has.
    """
    for use in uses:
        for choice in (use, *use.choices):
            _check(choice, larder, notes)


def _check(use: Use, larder: Larder, notes: Notes) -> None:
    lost = [word for word in use.before if loses(word)]
    item = None if use.item is None else larder.get(use.item)
    if use.role is not Role.BUY or not lost or item is None or use.amount is None or use.part is not None:
        return
    if not use.amount.terms or any(term.unit.dimension not in _WEIGHED for term in use.amount.terms):
        return
    if item.left_after(*use.before):
        return
    words = " and ".join(lost)
    much = amount_words(use.amount)
    notes.add(
        "no-yield",
        use.span,
        f"How much of the {item.name} is left when it is {words} is not known: the market list has these {much} as they stand, "
        "which may be too little.",
        f"If it is weighed before, put that after a comma: [{much} {item.name}, {words}].",
        f"If it is weighed after, write the part that is left into larder.csv, column `yield`, as in `{words} 80%`.",
    )

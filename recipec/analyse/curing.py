"""Curing salts are weighed: a spoon too much of them is a poison."""

from __future__ import annotations

from collections.abc import Iterable

from recipec.analyse.context import Notes
from recipec.larder.care import Care, care_of
from recipec.measure.quantity import Dimension
from recipec.model.dish import Role, Use


def check_cures(uses: Iterable[Use], notes: Notes) -> None:
    """Notes every curing salt that is given by anything but its weight."""
    for use in uses:
        for choice in (use, *use.choices):
            if (
                choice.role is not Role.BUY
                or choice.amount is None
                or care_of(choice.item or choice.name) is not Care.NITRITE
            ):
                continue
            if any(term.unit.dimension is not Dimension.MASS for term in choice.amount.terms):
                notes.add(
                    "cure-by-spoon",
                    choice.span,
                    f"The {choice.name} is not given by weight, and nitrite is poisonous when a spoon holds more of it than was meant.",
                    f"Weigh it, or write it by the weight of the meat: [{choice.name}, 0.25% of the pork], as its packet says.",
                    "Follow the packet, your local code and your own training; this is not a substitute.",
                )

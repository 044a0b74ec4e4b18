"""Plants that spoil once they are cooked: roots and greens, mushrooms, pulses, rice, pasta. Raw they ask for nothing.

The Food Code counts plant food that was heated among what needs its time and temperature watched (1-201.10(B), from memory). Sour fruit,
pickles, what is more sugar than anything else, and what is crisp and dry are left out: they are too sour or too dry (common practice).
"""

from __future__ import annotations

from functools import cache

from recipec.larder.ingredient import Ingredient
from recipec.larder.names import normal_name
from recipec.model.dish import Use
from recipec.plan.figures import rows

SOUR = frozenset(("vinegar", "vinaigrette", "lemon", "lime", "verjuice"))
"""Last words, or first, of names of what makes other food sour."""

SWEET = frozenset(("sugar", "honey", "syrup", "jaggery"))
"""Last words of names of sugars."""

DRY_WORDS = frozenset(
    "crisp crisps crumb crumbs powder dust pickle pickles jam chutney relish marmalade caramel brittle praline croutons biscuit".split()
)
"""Of what a step leaves: its own name says that it is dry, sour or sweet."""


@cache
def _endings() -> frozenset[str]:
    return frozenset(name for name, _ in rows("plant_kinds.tsv"))


def cooked_spoils(use: Use, item: Ingredient | None) -> bool:
    """Whether it must be kept cold or hot once it is cooked. By the last words of its name, one the larder does not know too."""
    if item is not None and item.department == "spices":
        return False
    words = normal_name(use.name if item is None else item.key).split()
    if words[:1] == ["pickled"] or use.part in ("juice", "zest"):
        return False
    known = _endings()
    return any(" ".join(words[start:]) in known for start in range(len(words)))

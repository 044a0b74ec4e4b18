"""Which diets a dish fits, as far as is known. Halal and kosher are for the supplier and the cook to declare, never inferred."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from enum import StrEnum
from types import MappingProxyType

from recipec.base.span import Span
from recipec.larder.ingredient import Presence
from recipec.larder.larder import Larder
from recipec.model.event import Need, NeedKind
from recipec.plan.needs import Food, most, presence_of

DIETS = ("vegetarian", "vegan", "pescatarian", "no pork", "no alcohol")
"""What is asked for most; what each shuts out is common practice, not anybody's rule."""


class Fits(StrEnum):
    """Whether a dish suits a diet."""

    YES = "fits"
    NO = "does not fit"
    UNKNOWN = "unknown"


def fits(foods: Iterable[Food], larder: Larder, span: Span) -> Mapping[str, Fits]:
    """Every diet of `DIETS`: one food that goes against it settles it, one that is not known leaves it unknown."""
    eaten = tuple(foods)
    return MappingProxyType({diet: _fits(Need(span, NeedKind.DIET, diet), eaten, larder) for diet in DIETS})


def _fits(need: Need, foods: tuple[Food, ...], larder: Larder) -> Fits:
    found = most(presence_of(need, food, larder) for food in foods)
    if not foods:
        return Fits.UNKNOWN
    return {Presence.CONTAINS: Fits.NO, Presence.NOT_IN_RECIPE: Fits.YES}.get(found, Fits.UNKNOWN)

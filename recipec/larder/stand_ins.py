"""Cuts and kinds that can stand in for each other in the same cooking, by the table `data/cheaper.tsv`."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import NamedTuple

from recipec.larder.ingredient import Ingredient
from recipec.larder.table_text import rows


class StandIn(NamedTuple):
    """What can be bought instead: its key, what to do otherwise then (blank where nothing is written), where that is said."""

    key: str
    note: str
    source: str


@cache
def pairs() -> Mapping[str, tuple[StandIn, ...]]:
    """By key, both ways about, in the order of the table. A note holds only the way it is written."""
    found: defaultdict[str, list[StandIn]] = defaultdict(list)
    for name, instead, _, note, source in rows("cheaper.tsv"):
        found[name].append(StandIn(instead, note, source))
        found[instead].append(StandIn(name, "", source))
    return MappingProxyType({name: tuple(others) for name, others in found.items()})


def same_for_guests(one: Ingredient, other: Ingredient) -> bool:
    """Whether no guest's allergy or diet can tell them apart, as far as is known of both. Species of fish count as one."""
    if (one.allergens, one.open, one.may_contain, one.animal) != (
        other.allergens,
        other.open,
        other.may_contain,
        other.animal,
    ):
        return False
    return one.named == other.named or one.allergens == ("fish",)

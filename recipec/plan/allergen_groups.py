"""The groups of allergens that a rule set wants told, in its own order and words, by the table `data/allergen_groups.tsv`.

A rule set only decides which columns a paper has: what a guest is allergic to is looked for whether a rule set names it or not.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import NamedTuple

from recipec.larder.ingredient import Ingredient, Presence

_TABLE = Path(__file__).with_name("data") / "allergen_groups.tsv"

_LISTS = {
    "uk": "the 14 groups of Regulation (EU) No 1169/2011, Annex II",
    "us-food-code": "the 9 major food allergens of FALCPA and the FASTER Act (sesame from 1 January 2023)",
}


class Group(NamedTuple):
    """One group. `key` is stable, for scripts; `number` the rule set's own ('' where it numbers none), `words` its words, `short` one
    that fits a narrow column."""

    key: str
    number: str
    words: str
    short: str
    allergen: str
    kind: str
    source: str

    def presence(self, item: Ingredient | None) -> Presence:
        """What may be said of a food; a food that the larder does not know is unknown."""
        if item is None:
            return Presence.UNKNOWN
        found = item.presence(self.allergen)
        if not self.kind or found is not Presence.CONTAINS or self.kind in item.named:
            return found
        # Barley is no wheat; where the cereal is not said, or the packet may name more, it may be.
        kinds = [name for name in item.named if name in _CEREALS]
        if not kinds:
            return Presence.CONTAINS
        return Presence.UNKNOWN if item.open else Presence.NOT_IN_RECIPE


_CEREALS = frozenset(("wheat", "rye", "barley", "oats", "spelt", "khorasan"))


class Groups(NamedTuple):
    """A rule set's list: its name as in `cookbook.toml`, the list it takes its groups from, and they in its order."""

    rules: str
    list_name: str
    groups: tuple[Group, ...]


@cache
def groups_of(rules: str) -> Groups:
    """The list of a rule set of `cookbook.toml`; the longer one where it is not known."""
    key = rules if rules in _LISTS else "uk"
    return Groups(key, _LISTS[key], tuple(_group(row) for row in _rows() if row[0] == key))


def _rows() -> list[list[str]]:
    lines = [line for line in _TABLE.read_text(encoding="utf-8").splitlines() if line and not line.startswith("#")]
    return [line.split("\t") for line in lines[1:]]


def _group(row: list[str]) -> Group:
    _, key, number, words, short, source = row
    allergen, _, kind = key.partition(":")
    return Group(kind or allergen, number, words, short, allergen, kind, source)

"""One language's words as the parser looks them up: every word to the key it stands for."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from typing import Any, NamedTuple

from recipec.syntax.table import load


class Words(NamedTuple):
    """Look-ups of one language. Keys are lower case with single spaces; `unit_of` also holds words as they are written."""

    unit_of: Mapping[str, str]
    kind_of: Mapping[str, str]
    seconds: Mapping[str, int]
    long_measures: Mapping[str, tuple[str, ...]]
    refused_units: Mapping[str, str]
    sizes: Mapping[str, str]
    numbers: Mapping[str, Fraction]
    loose_numbers: frozenset[str]
    articles: frozenset[str]
    shares: Mapping[str, Fraction]
    share_rest: frozenset[str]
    parts: Mapping[str, str]
    flags: Mapping[str, str]
    temperature: Mapping[str, str]
    heat: Mapping[str, str]
    attention: Mapping[str, str]
    states: Mapping[str, str]
    plates: Mapping[str, Fraction]
    features: Mapping[str, str]
    diets: frozenset[str]
    currencies: Mapping[str, str]
    abbreviations: frozenset[str]
    joining: tuple[str, ...]
    hands_free: frozenset[str]
    marks: Mapping[str, tuple[str, ...]]
    facts: Mapping[str, Mapping[str, str]]
    fact_slips: Mapping[str, Mapping[str, str]]
    forms: Mapping[str, str]
    spelt: Mapping[str, tuple[str, ...]]

    def written(self, key: str, number: Fraction) -> str:
        """A unit as it is written by rule: its key, in the plural where that only adds an s or the like (`2 cups`)."""
        plural = next((word for word in self.spelt[key][1:] if word in (key + "s", key + "es")), key)
        # Symbols have no plural: `tbsp`, `kg`.
        return (
            plural
            if number > 1 and len(key) > 2 and self.kind_of[key] != "time" and plural not in ("tbsps", "tsps")
            else key
        )


def fold(text: str) -> str:
    """Lower case, white space as single spaces, no closing full stop: how words are looked up."""
    return " ".join(text.lower().split()).rstrip(".")


def _by_first_letter(data: Mapping[str, Any]) -> dict[str, tuple[str, ...]]:
    """The long words for measures, by their first letter: only those are guessed at when a word looks misspelt.

    Short words are too near to foods (pint and mint, clove and clover), and a slip seldom strikes the first letter.
    """
    found: dict[str, tuple[str, ...]] = {}
    for kind in ("mass", "volume", "vague"):
        for key in data["unit-kinds"][kind]:
            for word in data["units"][key]:
                if len(word) >= 6 and word.islower():
                    found[word[0]] = (*found.get(word[0], ()), word)
    return found


@cache
def words(language: str = "en") -> Words:
    """The words of a language that has a table under `grammar/`."""
    data = load(language).words

    def keys(table: Mapping[str, list[str]]) -> dict[str, str]:
        return {word: key for key, group in table.items() for word in group}

    def numbers(table: Mapping[str, str | int]) -> dict[str, Fraction]:
        return {word: Fraction(value) for word, value in table.items()}

    units = keys(data["units"])
    return Words(
        unit_of={fold(word): key for word, key in units.items()}
        | {word.capitalize(): k for word, k in units.items()}
        | units,
        kind_of={key: kind for kind, group in data["unit-kinds"].items() for key in group},
        seconds=data["seconds"],
        long_measures=_by_first_letter(data),
        refused_units=data["refused-units"],
        sizes=keys(data["sizes"]),
        numbers=numbers(data["numbers"]),
        loose_numbers=frozenset(data["loose-numbers"]["words"]),
        articles=frozenset(data["words"]["a"]),
        shares=numbers(data["shares"]),
        share_rest=frozenset(data["share-words"]["rest"] + data["share-words"]["remaining"]),
        parts=keys(data["parts"]),
        flags=keys(data["flags"]),
        temperature=keys(data["temperature"]),
        heat=keys(data["temperature-kinds"]),
        attention=keys(data["attention"]),
        states=keys(data["states"]),
        plates=numbers(data["plates"]),
        features=keys(data["features"]),
        diets=frozenset(data["diets"]["words"]),
        currencies=data["currencies"],
        abbreviations=frozenset(data["abbreviations"]["words"]),
        joining=tuple(data["joining"]["words"]),
        hands_free=frozenset(data["verbs"]["hands-free"]),
        marks={key: tuple(group) for key, group in data["words"].items()},
        facts=data["facts"],
        fact_slips=data["fact-slips"],
        forms=data["forms"],
        spelt={key: tuple(group) for key, group in data["units"].items()},
    )

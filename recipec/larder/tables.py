"""Reads the built-in tables under `data/`. They are ours, so a fault in them is a bug and raises."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from fractions import Fraction
from pathlib import Path
from typing import NamedTuple

from recipec.larder.ingredient import Density, Each, Ingredient, PartOf, Trim
from recipec.larder.names import normal_name
from recipec.measure.units import unit

_DATA = Path(__file__).with_name("data")


class Treatments(NamedTuple):
    """Words that may stand before a name without changing what it is, and the adverbs that go with them."""

    words: frozenset[str]
    adverbs: frozenset[str]

    def take(self, words: tuple[str, ...]) -> tuple[str, ...] | None:
        """`finely chopped toasted` as (`finely chopped`, `toasted`); None when a word is no treatment."""
        found: list[str] = []
        adverb = ""
        for word in words:
            if word == "and" and found and not adverb:
                continue
            if word in self.adverbs:
                adverb = f"{adverb}{word} "
            elif word in self.words or word.replace("-", " ") in self.words:
                found.append(adverb + word)
                adverb = ""
            else:
                return None
        return None if adverb else tuple(found)


def rows(name: str) -> Iterator[list[str]]:
    """The rows of a table, without remarks and heading, each cell as text."""
    lines = (_DATA / name).read_text(encoding="utf-8").splitlines()
    width = 0
    for line in lines:
        if not line or line.startswith("#"):
            continue
        cells = line.split("\t")
        if width:
            yield cells + [""] * (width - len(cells))
        else:
            width = len(cells)


def number(text: str) -> Fraction:
    """A plain decimal as written in a table, exactly."""
    whole, _, decimals = text.partition(".")
    return Fraction(int(whole + decimals), 10 ** len(decimals))


def treatments() -> Treatments:
    """The table of treatment words."""
    table = list(rows("treatments.tsv"))
    return Treatments(
        frozenset(word for word, kind in table if kind != "adverb"),
        frozenset(word for word, kind in table if kind == "adverb"),
    )


def allergen_cell(text: str) -> tuple[tuple[str, ...] | None, bool, tuple[str, ...]]:
    """`gluten:wheat milk ?` as (keys, open, named). Blank is unknown, `none` is none, `?` leaves the rest to the packet."""
    words = text.split()
    left_open = "?" in words
    words = [word for word in words if word != "?"]
    if not words:
        return None, True, ()
    if words == ["none"]:
        return (), left_open, ()
    keys = tuple(word.partition(":")[0] for word in words)
    named = tuple(name for word in words for name in word.partition(":")[2].replace("_", " ").split("+") if name)
    return keys, left_open, named


def animal_cell(text: str) -> tuple[str, ...] | None:
    """Blank is unknown, `none` is from no animal."""
    words = tuple(text.split())
    return None if not words else () if words == ("none",) else words


def ingredients() -> Iterator[Ingredient]:
    """Every built-in ingredient with its figures."""
    densities, each, yields, parts = _densities(), _each(), _yields(), _parts()
    for name, plural, aliases, department, allergens, may_contain, animal, source in rows("ingredients.tsv"):
        key = normal_name(name)
        contains, left_open, named = allergen_cell(allergens)
        yield Ingredient(
            key=key,
            name=name,
            plural=plural or name,
            aliases=tuple(alias.strip() for alias in aliases.split(";")) if aliases else (),
            department=department,
            allergens=contains,
            open=left_open,
            may_contain=tuple(may_contain.split()),
            named=named,
            animal=animal_cell(animal),
            source=source,
            densities=tuple(densities.get(name, ())),
            each=tuple(each.get(name, ())),
            yields=tuple(yields.get(name, ())),
            parts=tuple(parts.get(name, ())),
        )


def _densities() -> Mapping[str, list[Density]]:
    # Figures stand as published: grams of so many cups (US) or spoons.
    table: defaultdict[str, list[Density]] = defaultdict(list)
    for name, state, grams, measures, key, source in rows("density.tsv"):
        value = number(grams) / (number(measures) * unit(key).factor)
        table[name].append(Density(state, value, source))
    return table


def _each() -> Mapping[str, list[Each]]:
    table: defaultdict[str, list[Each]] = defaultdict(list)
    for name, key, size, grams, source in rows("each.tsv"):
        table[name].append(Each(key, size, number(grams), source))
    return table


def _yields() -> Mapping[str, list[Trim]]:
    table: defaultdict[str, list[Trim]] = defaultdict(list)
    for name, treatment, percent, source in rows("yield.tsv"):
        table[name].append(Trim(treatment, number(percent) / 100, source))
    return table


def _parts() -> Mapping[str, list[PartOf]]:
    table: defaultdict[str, list[PartOf]] = defaultdict(list)
    for name, part, amount, key, keeps, source in rows("part.tsv"):
        table[name].append(PartOf(part, number(amount), key, int(keeps) if keeps else None, source))
    return table

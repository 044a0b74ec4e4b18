"""Reads the built-in tables under `data/`. They are ours, so a fault in them is a bug and raises."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from recipec.larder.ingredient import Density, Each, Ingredient, PartOf, Trim
from recipec.larder.names import match_key
from recipec.larder.table_text import number, rows
from recipec.measure.units import unit


@cache
def _pouring() -> frozenset[str]:
    return frozenset(word for (word,) in rows("pours.tsv"))


def pours(key: str) -> bool:
    """Whether an ingredient of that key is a liquid, which is measured by volume even where there is a scale."""
    return key.rpartition(" ")[2] in _pouring()


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


class Stock:
    """The built-in ingredients. Read as text at once, made into values when asked for, since a book uses few of them."""

    __slots__ = ("_figures", "_lines", "_made")

    def __init__(self) -> None:
        self._lines = {cells[0]: cells for cells in rows("ingredients.tsv")}
        self._made: dict[str, Ingredient] = {}
        self._figures: tuple[_Rows, ...] | None = None

    def keys(self) -> tuple[str, ...]:
        """The names, which are their own keys (a test holds them to that), in the order of the table."""
        return tuple(self._lines)

    def index(self) -> Mapping[str, str]:
        """`match_key` of every name, plural and alias → key. A thing's own name wins over another's alias."""
        index: dict[str, str] = {}
        for cells in self._lines.values():
            for alias in cells[2].split(";") if cells[2] else ():
                index[match_key(alias)] = cells[0]
        for cells in self._lines.values():
            index[match_key(cells[0])] = cells[0]
            if cells[1] != cells[0]:
                index[match_key(cells[1])] = cells[0]
        return MappingProxyType(index)

    def get(self, key: str) -> Ingredient | None:
        """The ingredient of a key with all its figures."""
        made = self._made.get(key)
        if made is None and key in self._lines:
            made = self._made[key] = self._make(*self._lines[key])
        return made

    def _make(
        self,
        name: str,
        plural: str,
        aliases: str,
        department: str,
        allergens: str,
        may_contain: str,
        animal: str,
        source: str,
    ) -> Ingredient:
        if self._figures is None:
            self._figures = _figures()
        density, each, trim, part = (table.get(name, ()) for table in self._figures)
        contains, left_open, named = allergen_cell(allergens)
        return Ingredient(
            key=name,
            name=name,
            plural=plural,
            aliases=tuple(aliases.split(";")) if aliases else (),
            department=department,
            allergens=contains,
            open=left_open,
            may_contain=tuple(may_contain.split()),
            named=named,
            animal=animal_cell(animal),
            source=source,
            densities=tuple(_density(*row) for row in density),
            each=tuple(_each(*row) for row in each),
            yields=tuple(Trim(row[0], number(row[1]) / 100, row[2]) for row in trim),
            parts=tuple(_part(*row) for row in part),
        )


_Rows = Mapping[str, list[list[str]]]


def _figures() -> tuple[_Rows, ...]:
    return tuple(_by_name(table) for table in ("density.tsv", "each.tsv", "yield.tsv", "part.tsv"))


def _by_name(table: str) -> _Rows:
    found: defaultdict[str, list[list[str]]] = defaultdict(list)
    for name, *cells in rows(table):
        found[name].append(cells)
    return found


def _density(state: str, grams: str, measures: str, key: str, source: str) -> Density:
    # Figures stand as published: grams of so many cups (US) or spoons.
    return Density(state, number(grams) / (number(measures) * unit(key).factor), source)


def _each(key: str, size: str, grams: str, count: str, edible: str, source: str) -> Each:
    weight = number(grams) / number(count)
    if not edible:
        return Each(key, size, weight, source)
    # What is peeled away was bought too.
    return Each(key, size, weight * 100 / number(edible), f"{source}, edible part / yield")


def _part(part: str, amount: str, key: str, keeps: str, source: str) -> PartOf:
    return PartOf(part, number(amount), key, int(keeps) if keeps else None, source)

"""The kitchen's units by key, and what a bare cup means where.

Figures come from `factors.tsv`, generated from `units.txt`, where each unit's source stands.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from fractions import Fraction
from functools import cache
from pathlib import Path
from types import MappingProxyType

from recipec.measure.quantity import Dimension, Unit


class Region(StrEnum):
    """Whose cups and spoons: the fact `measures` of a dish or a book."""

    US = "us"
    UK = "uk"
    METRIC = "metric"
    AU = "au"


# A bare key → by region. Britain and Australia measure spoons by the metric set of today; a pint is imperial in both.
# There is no metric pint, gill, quart, gallon or fluid ounce: those need us or uk.
_US = {key: f"us_{key}" for key in ("cup", "tbsp", "tsp", "floz", "gill", "pint", "quart", "gallon")}
_UK = {key: f"uk_{key}" for key in ("floz", "gill", "pint", "quart", "gallon")}
_METRIC = {"cup": "metric_cup", "tbsp": "metric_tbsp", "tsp": "metric_tsp"}
_BY_REGION: Mapping[Region | None, Mapping[str, str]] = MappingProxyType(
    {
        Region.US: _US,
        Region.UK: {**_UK, **_METRIC, "cup": "uk_cup"},
        Region.METRIC: _METRIC,
        Region.AU: {**_UK, **_METRIC, "tbsp": "au_tbsp"},
        # A teaspoon is 5 ml, or 1.4 % less in America: within every bound, so it needs no region.
        None: {"tsp": "metric_tsp"},
    }
)

REGIONAL = frozenset(_US)
"""Keys that mean different volumes in different countries."""

NOMINAL = frozenset({"pinch", "dash", "drop", "splash", "knob", "handful"})
"""Units whose amount is nominal (from memory): good for a market list, never scaled."""

# `1 stick butter` is a weight; a stick of celery or cinnamon is counted. Compared with the singular, lower-case name.
_IN_STICKS_BY_WEIGHT = frozenset({"butter", "unsalted butter", "salted butter", "margarine"})


@cache
def _table() -> Mapping[str, Unit]:
    units: dict[str, Unit] = {}
    rows = Path(__file__).with_name("factors.tsv").read_text(encoding="utf-8").splitlines()
    for row in rows[1:]:
        key, dimension, factor = row.split("\t")
        above, _, below = factor.partition("/")
        units[key] = Unit(key, Dimension(dimension), Fraction(int(above), int(below or 1)))
    return MappingProxyType(units)


def keys() -> tuple[str, ...]:
    """Every key with a unit, region by region, in the order of units.txt."""
    return tuple(_table())


def unit(key: str) -> Unit:
    """The unit of a key that stands on its own (`g`, `us_cup`, `clove`, `piece`). Raises KeyError for any other."""
    return _table()[key]


def resolve(key: str | None, region: Region | None, of: str = "") -> Unit | None:
    """The unit meant by a key as written, or None when only a region could tell (a bare cup) or the region has none.

    `key` None is the bare count. `of` is the name of the food, which matters to a stick of butter.
    Raises KeyError for a key that is no unit at all.
    """
    if key is None:
        return unit("piece")
    if key in REGIONAL:
        there = _BY_REGION[region].get(key)
        return None if there is None else unit(there)
    if key == "stick" and of.casefold() in _IN_STICKS_BY_WEIGHT:
        return unit("butter_stick")
    return unit(key)


def bare(unit: Unit) -> str:
    """The key as a cook writes it, without region: `us_cup` is `cup`, `butter_stick` is `stick`."""
    head, _, tail = unit.name.partition("_")
    return tail if tail and head in {"us", "uk", "metric", "au", "butter"} else unit.name

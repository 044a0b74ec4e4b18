"""The table of units: generated from pint's registry, complete, resolved by region."""

from __future__ import annotations

import tomllib
from fractions import Fraction as F

import pytest

from recipec.base.places import grammar_dir
from recipec.measure.quantity import Dimension
from recipec.measure.units import NOMINAL, REGIONAL, Region, bare, keys, resolve, unit


def test_the_shipped_table_is_what_the_registry_gives() -> None:
    generate = pytest.importorskip("recipec.measure.generate")
    assert generate.FACTORS.read_text(encoding="utf-8") == generate.factors()


def test_every_unit_of_the_language_is_known() -> None:
    words = grammar_dir() / "words.en.toml"
    if not words.is_file():
        pytest.skip("the table of words is not there yet")
    table = tomllib.loads(words.read_text(encoding="utf-8"))["units"]
    written = set(_leaves(table))
    for key in sorted(written):
        assert any(resolve(key, region) is not None for region in Region), key
    ours = {bare(unit(key)) for key in keys()} - {"piece"} | {"piece"} & written
    assert ours == written


def _leaves(table: object) -> list[str]:
    """Unit keys: the keys of the innermost tables."""
    if not isinstance(table, dict):
        return []
    found: list[str] = []
    for key, value in table.items():
        found += _leaves(value) if isinstance(value, dict) else [key]
    return found


@pytest.mark.parametrize("key", sorted(REGIONAL - {"tsp"}))
def test_a_bare_measure_needs_a_region(key: str) -> None:
    assert resolve(key, None) is None
    assert resolve(key, Region.US) == unit(f"us_{key}")


def test_spoons_and_cups_by_region() -> None:
    assert [resolve("tbsp", region).factor for region in (Region.UK, Region.METRIC, Region.AU)] == [15, 15, 20]  # type: ignore[union-attr]
    assert resolve("cup", Region.AU) == resolve("cup", Region.METRIC) == unit("metric_cup")
    assert resolve("cup", Region.UK) == unit("uk_cup")
    assert resolve("pint", Region.AU) == unit("uk_pint")
    assert resolve("pint", Region.METRIC) is None
    assert resolve("tsp", None) == unit("metric_tsp")


def test_a_stick_is_a_weight_of_butter_and_a_count_of_anything_else() -> None:
    assert resolve("stick", None, "unsalted butter") == unit("butter_stick")
    assert resolve("stick", None, "cinnamon").dimension is Dimension.COUNT  # type: ignore[union-attr]


def test_no_unit_is_a_piece_and_an_unknown_one_a_fault() -> None:
    assert resolve(None, None) == unit("piece")
    with pytest.raises(KeyError):
        resolve("furlong", Region.UK)


def test_nominal_measures_exist() -> None:
    for key in NOMINAL:
        assert unit(key).factor > 0
    assert unit("pinch").factor == F(5, 16)

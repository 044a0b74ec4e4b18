"""Every figure that names SR28 is recomputed from what SR28 published, by an extract kept with the tests."""

from __future__ import annotations

from fractions import Fraction

import pytest

from recipec.larder.larder import builtin
from recipec.measure.units import unit
from tests.larder.sr28 import Figure, Trimmed, figures, fits, left, read_refuse, read_weights, trimmed

FIGURES = tuple(figures())
TRIMMED = tuple(trimmed())
WEIGHTS = read_weights()
REFUSED = read_refuse()

TWICE = frozenset({"05066", "05069", "05094", "05098"})
"""Slips of SR28: the bone is counted twice in the refuse of these."""


def _found(figure: Figure) -> int:
    return sum(fits(figure, weight) for weight in WEIGHTS.get(figure.number, ()))


@pytest.mark.parametrize(
    "figure", FIGURES, ids=lambda figure: f"{figure.table}-{figure.name}-{figure.unit}-{figure.label}"
)
def test_a_figure_is_one_published_measure(figure: Figure) -> None:
    assert _found(figure) == 1


@pytest.mark.parametrize("row", TRIMMED, ids=lambda row: f"{row.name}-{row.treatment}")
def test_a_yield_is_what_the_published_refuse_leaves(row: Trimmed) -> None:
    assert left(REFUSED[row.number], row.less) == row.percent
    assert row.name in REFUSED[row.number].ours
    assert row.number not in TWICE


def test_what_the_larder_says_is_what_was_published() -> None:
    """From the published row to the value in use, without the table between."""
    larder = builtin()
    for figure in FIGURES:
        item = larder.get(figure.name)
        assert item is not None
        (weight,) = (weight for weight in WEIGHTS[figure.number] if fits(figure, weight))
        count = figure.count if figure.name == "scallop" else weight.count
        if figure.table == "density":
            value = next(known.value for known in item.densities if known.state == figure.label)
            assert value == weight.grams / (count * unit(figure.unit).factor)
        elif figure.table == "part":
            part = item.part(figure.label)
            assert part is not None and (part.amount, part.unit) == (weight.grams, "g")
        else:
            each = next(known for known in item.each if (known.unit, known.size) == (figure.unit, figure.label))
            edible = 100 - REFUSED[figure.number].percent if each.source.endswith("/ yield") else Fraction(100)
            assert each.grams == weight.grams / count * 100 / edible


def test_a_figure_changed_by_hand_is_noticed() -> None:
    others = dict(zip(sorted(WEIGHTS), sorted(WEIGHTS)[1:], strict=False))
    swapped = {
        "us_cup": "us_tbsp",
        "us_tbsp": "us_tsp",
        "us_tsp": "us_cup",
        "us_floz": "us_cup",
        "l": "us_cup",
        "g": "ml",
    }
    for figure in FIGURES:
        assert _found(figure._replace(grams=figure.grams + Fraction(1, 10))) == 0, figure
        assert _found(figure._replace(count=figure.count * 3)) == 0, figure
        assert _found(figure._replace(number=others.get(figure.number, "00000"))) == 0, figure
        assert _found(figure._replace(unit=swapped.get(figure.unit, "us_cup"))) == 0 or figure.name in {
            "scallop",
            "leek",
        }, figure
    for row in TRIMMED:
        assert left(REFUSED[row.number], row.less) != row.percent + 1


def test_the_extract_holds_nothing_else() -> None:
    for weights in WEIGHTS.values():
        for weight in weights:
            assert any(fits(figure, weight) for figure in FIGURES), weight
    assert set(REFUSED) == {row.number for row in TRIMMED}

"""Volume, mass and pieces into each other."""

from __future__ import annotations

from fractions import Fraction as F

from recipec.measure.convert import Lack, Unconvertible, convert
from recipec.measure.quantity import quantity
from recipec.measure.units import unit

G, ML, CUP, PIECE, CLOVE, H = (unit(key) for key in ("g", "ml", "us_cup", "piece", "clove", "h"))


def test_through_density_and_back() -> None:
    density = F(125) / CUP.factor
    assert convert(quantity(2, CUP), G, density) == quantity(250, G)
    assert convert(quantity(250, G), CUP, density) == quantity(2, CUP)


def test_through_weight_each() -> None:
    assert convert(quantity(3, CLOVE), G, each=F(3)) == quantity(9, G)
    assert convert(quantity(45, ML), PIECE, F(1), F(50)) == quantity(F(9, 10), PIECE)


def test_what_is_lacking_is_said() -> None:
    for result, reason in (
        (convert(quantity(1, CUP), G), Lack.NO_DENSITY),
        (convert(quantity(1, CUP), G, F(0)), Lack.NO_DENSITY),
        (convert(quantity(1, G), PIECE, F(1)), Lack.NO_EACH),
        (convert(quantity(1, H), G, F(1), F(1)), Lack.WRONG_DIMENSION),
        (convert(quantity(1, CLOVE), PIECE, F(1), F(1)), Lack.WRONG_DIMENSION),
    ):
        assert isinstance(result, Unconvertible)
        assert result.reason is reason


def test_ranges_keep_both_ends() -> None:
    assert convert(quantity(1, PIECE, 2), G, each=F(50)) == quantity(50, G, 100)

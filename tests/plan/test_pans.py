"""Tins of equal depth: areas go by the square of a side, and π cancels."""

from __future__ import annotations

from fractions import Fraction as F

import pytest

from recipec.plan.fill import dish_sheet
from recipec.plan.pans import Fit, Pan, fits, nearest, read_pan, shop_sizes
from tests.analyse.book import book
from tests.plan.make import stocked

ROUND_20 = Pan((F(20), None), "cm", "round")


def test_twenty_to_twenty_four_is_1_44() -> None:
    assert Pan((F(24), None), "cm", "round").area_over(ROUND_20) == F(144, 100)
    assert fits(ROUND_20, F(144, 100)) == (Fit(1, Pan((F(24), None), "cm", "round"), F(144, 100)),)


def test_sides_multiply() -> None:
    small, large = read_pan("20 x 30 cm"), read_pan("tray, 30 × 40 cm")
    assert small is not None and large is not None
    assert large.area_over(small) == 2
    assert small.area_over(ROUND_20) is None
    inch = read_pan("8 inch round")
    assert inch is not None and inch.area_over(ROUND_20) is None


@pytest.mark.parametrize(
    ("words", "sides", "unit", "shape"),
    [
        ("springform tin 23 cm", (23, None), "cm", "round"),
        ("20 cm round", (20, None), "cm", "round"),
        ("square baking tin 8 inch", (8, None), "inch", "square"),
        ("20 cm square", (20, None), "cm", "square"),
        ("20 x 20 cm", (20, None), "cm", "square"),
        ("30 cm x 20 cm", (20, 30), "cm", "oblong"),
        ("9 x 13 in", (9, 13), "inch", "oblong"),
        ("9×13 inches", (9, 13), "inch", "oblong"),
        ("gratin dish 32 cm", (32, None), "cm", ""),
        ("tart tin, 22.5cm, loose-bottomed", (F("22.5"), None), "cm", "round"),
    ],
)
def test_sizes_are_read(words: str, sides: tuple[int, int | None], unit: str, shape: str) -> None:
    first, second = sides
    assert read_pan(words) == Pan((F(first), None if second is None else F(second)), unit, shape)


@pytest.mark.parametrize("words", ["stockpot, 8 l", "ramekin", "0 cm", "tin, 20 min", "cake tin, for 20", "20 cmx"])
def test_what_is_no_size_is_none(words: str) -> None:
    assert read_pan(words) is None


def test_several_of_the_same_beside_one_larger() -> None:
    one, several = fits(Pan((F(15), None), "cm", "round"), F(2))
    assert (one.count, one.pan.sides[0], one.area) == (1, 22, F(484, 225))
    assert (several.count, several.area) == (2, 2)


def test_every_fit_is_about_as_deep() -> None:
    for pan in shop_sizes():
        for factor in (F(1, 3), F(1, 2), F(3, 4), F(5, 4), F(3, 2), F(2), F(5, 2), F(15, 4), F(6), F(9)):
            found = fits(pan, factor)
            for fit in found:
                area = fit.pan.area_over(pan)
                assert area is not None and fit.area == fit.count * area
                assert F(9, 10) <= factor / fit.area <= F(11, 10)
            assert found or nearest(pan, factor) is not None


def notes(mark: str, plates: int, more: str = "") -> list[str]:
    text = (
        f"Trial cake\nserves: 4\nmeasures: metric\n\nBeat [200 g butter] and scrape it into a {mark}.{more} -> cake\n"
    )
    linked, _ = book({"trial-cake.dish": text})
    sheet = dish_sheet(linked.book, stocked(), "trial-cake", F(plates))
    return [note.replace("\u00a0", " ") for note in sheet.notes]


def test_a_card_says_which_tin() -> None:
    (said,) = notes("{cake tin, 20 cm}", 6)
    assert said == (
        "For the same depth as in the cake tin, 20 cm, take one of 24 cm (× 1.44 the area). In that one alone it comes 1½ times as "
        "deep: it bakes longer, and may rise over the rim."
    )
    (said,) = notes("{cake tin} of <20 cm round>", 8)
    assert "one of 28 cm (× 1.96 the area), or 2 of 20 cm (× 2 the area)" in said
    (said,) = notes("{gratin dish, 20 x 30 cm}", 2)
    assert "one of 15 × 20 cm (× 0.5 the area)" in said and "it is done sooner" in said


def test_a_size_before_the_name() -> None:
    (said,) = notes("{9 x 13 inch tin}", 6)
    assert said.startswith("For the same depth as in the tin, 9 × 13 in, take one of 11 × 16 in (× 1.5 the area).")


def test_several_tins() -> None:
    (said,) = notes("{2 cake tins, 20 cm}", 8)
    assert said.startswith(
        "For the same depth as in the 2 cake tins, 20 cm, take for each one of 28 cm (× 1.96 the area), or 2 of 20 cm"
    )
    assert "In those alone it comes twice as deep" in said
    # One for every plate: there are simply more of them.
    assert notes("{4 tart tins, 10 cm}", 8) == []


def test_as_written_and_nearly_so_nothing_is_said() -> None:
    assert notes("{cake tin, 20 cm}", 4) == []
    linked, _ = book({"a.dish": "A cake\nserves: 20\n\nBeat [200 g butter] into a {cake tin, 20 cm}.\n"})
    assert dish_sheet(linked.book, stocked(), "a", F(21)).notes == ()


def test_a_frying_pan_is_filled_again() -> None:
    (said,) = notes("{frying pan, 28 cm}", 8)
    assert said == "Cook in the frying pan, 28 cm in 2 batches, or in 2 pans: crowded, it stews and does not colour."
    (said,) = notes("{frying pan, 28 cm, takes 3 plates}", 8)
    assert "in 3 batches" in said


def test_a_skillet_that_is_baked_in_is_a_tin() -> None:
    (said,) = notes("{skillet, 10 inch} and bake in {the oven}", 6)
    assert "one of 12 in (× 1.44 the area)" in said


def test_roasting_tins_and_pots_have_no_depth_to_keep() -> None:
    assert notes("{roasting tin, 30 cm}", 8) == []
    assert notes("{stockpot, 8 l}", 8) == []

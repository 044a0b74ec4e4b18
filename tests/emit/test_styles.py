"""The styles keep what site/README.md promises: contrast, sizes at the stove, nothing fetched."""

from __future__ import annotations

import re

import pytest

from recipec.emit.render import style, styles

COLOUR = re.compile(r"--(ground|sheet|ink|soft|rim|warn): #([0-9a-f]{6});")
SIZE = re.compile(r"font-size:\s*([0-9.]+)(mm|pt|em)")
POINTS = {"pt": 1.0, "mm": 72 / 25.4, "em": 12.0}


def palettes() -> list[dict[str, str]]:
    """Light, dark and print, in that order."""
    found: list[dict[str, str]] = []
    for name, value in COLOUR.findall(style("base.css")):
        if name == "ground":
            found.append({})
        found[-1][name] = value
    return found


def luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.2."""
    channels = [int(colour[place : place + 2], 16) / 255 for place in (0, 2, 4)]
    linear = [channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4 for channel in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, two: str) -> float:
    """Contrast ratio, WCAG 2.2."""
    dark, light = sorted((luminance(one), luminance(two)))
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize("scheme", range(3), ids=["light", "dark", "print"])
@pytest.mark.parametrize("text", ["ink", "soft", "rim", "warn"])
@pytest.mark.parametrize("behind", ["ground", "sheet"])
def test_all_text_stands_out_seven_to_one(scheme: int, text: str, behind: str) -> None:
    palette = palettes()[scheme]
    assert contrast(palette[text], palette[behind]) >= 7


def test_contrast_is_reckoned_right() -> None:
    assert contrast("000000", "ffffff") == pytest.approx(21)
    assert contrast("767676", "ffffff") == pytest.approx(4.54, abs=0.01)


def test_figures_on_the_card_are_five_millimetres_high_and_the_rest_twelve_points() -> None:
    card = style("card.css")
    big = re.search(r"\.big \{[^}]*font-size: ([0-9.]+)mm;[^}]*font-size-adjust: cap-height ([0-9.]+);", card)
    assert big
    assert float(big[1]) * float(big[2]) >= 5
    sizes = SIZE.findall(card)
    assert len(sizes) > 4
    assert all(float(number) * POINTS[unit] >= 12 for number, unit in sizes)


def test_the_card_is_black_on_white() -> None:
    printed = style("card.css").split("@media screen")[0]
    assert set(re.findall(r"#[0-9a-f]{3,6}", printed)) == {"#000000", "#ffffff"}


@pytest.mark.parametrize("name", sorted(styles()))
def test_nothing_is_fetched(name: str) -> None:
    assert not re.search(r"url\(|@import|@font-face|https?:", styles()[name])


def test_food_gear_and_readings_differ_without_colour() -> None:
    for name in ("base.css", "card.css"):
        text = style(name)
        assert re.search(r"\.food[^{]*\{\s*font-weight: 700", text)
        assert re.search(r"\.gear \{\s*font-variant-caps: all-small-caps", text)
        assert re.search(r"\.dial \{[^}]*border:", text)

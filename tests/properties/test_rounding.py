"""Rounding for people, over the whole larder: every ingredient, in every measure a cook might write, made 1/12 to 40 times.

Bounds are common practice: salt, leavening, gelatin and cures within 3 %, everything else within 5 %; under 0.2 g no bound holds.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from fractions import Fraction as F
from pathlib import Path

import pytest

from recipec.book.compile import Build, compile_book
from recipec.larder.care import Care
from recipec.larder.ingredient import Ingredient
from recipec.larder.larder import builtin
from recipec.measure.quantity import Amount, Dimension, one, quantity
from recipec.measure.rounding import EXEMPT_BELOW, bound, within
from recipec.measure.show import Shown, Style, shopping
from recipec.measure.units import keys, unit
from recipec.plan.fill import dish_sheet
from recipec.plan.scale import scale, written_plates
from recipec.plan.sheet import DishSheet, FoodPiece, StepBlock
from recipec.plan.wording import Desk, care, density_of, is_uncut
from tests.plan.make import dish

LARDER = builtin()
EMPTY = scale(dish("empty"), F(1))
DESKS = tuple(Desk(EMPTY, LARDER, Style(measures)) for measures in ("as written", "metric", "us"))

FACTORS = (
    F(1, 12), F(1, 10), F(1, 8), F(1, 7), F(1, 6), F(1, 5), F(2, 9), F(1, 4), F(3, 10), F(1, 3), F(3, 8), F(5, 12), F(1, 2),
    F(7, 12), F(5, 8), F(2, 3), F(3, 4), F(5, 6), F(7, 8), F(11, 12), F(13, 12), F(9, 8), F(7, 6), F(5, 4), F(4, 3), F(7, 5),
    F(3, 2), F(19, 12), F(5, 3), F(7, 4), F(11, 6), F(2), F(9, 4), F(7, 3), F(13, 5), F(8, 3), F(3), F(10, 3), F(7, 2), F(17, 4),
    F(5), F(23, 4), F(6), F(20, 3), F(15, 2), F(9), F(31, 3), F(12), F(27, 2), F(15), F(50, 3), F(20), F(24), F(30), F(101, 3), F(40),
)  # fmt: skip
WRITTEN = tuple(
    one(quantity(F(number), unit(key)))
    for number, key in (
        (1, "g"), (7, "g"), (12, "g"), (85, "g"), (250, "g"), ("1.2", "kg"), (3, "oz"), ("1.5", "lb"),
        (10, "ml"), (75, "ml"), (400, "ml"), ("1.2", "l"),
        ("1/4", "metric_tsp"), (1, "metric_tsp"), ("3/2", "metric_tbsp"), (1, "au_tbsp"),
        ("1/8", "us_tsp"), ("1/2", "us_tsp"), (1, "us_tbsp"), ("1/3", "us_cup"), ("3/4", "us_cup"), (2, "us_cup"), (1, "metric_cup"),
        (1, "us_pint"), (1, "us_quart"), (6, "us_floz"), (1, "uk_pint"), (4, "uk_floz"),
    )
)  # fmt: skip
COUNTS = (1, 3, 8)

# What never reaches a card: a decimal before a counted thing or a spoon, more decimals than a scale has, millilitres that no jug is
# marked with, thirds written out.
FORBIDDEN = re.compile(
    r"\d[.,]\d+\u00a0(?!(?:k?g|mg|[dcm]?l|k?W|cm|mm|m)\b)|\d[.,]\d{3}|\d{2}[1-46-9]\u00a0ml\b|^\d+[.,]\d+$|\d/\d|\bnan\b|Fraction"
)
SPOON = re.compile(r"([\d¼½¾⅐-⅞]+)\u00a0(tsp|tbsp|cups?)\b")
PARTS = {"tsp": set("¼½¾⅛⅜⅝⅞"), "tbsp": set("½"), "cup": set("¼½¾⅓⅔")}


def number_of(text: str) -> F:
    """`1½`, `⅔`, `0.25`, `12`."""
    whole = "".join(sign for sign in text if sign in "0123456789.,").replace(",", ".")
    parts = [F(unicodedata.numeric(sign)).limit_denominator(8) for sign in text if sign not in "0123456789.,"]
    return F(whole or 0) + sum(parts, F(0))


def read(text: str, system: str) -> F:
    """What words such as `1 cup plus 2 tbsp` or `2 lb 3 oz` stand for, in g or ml: read anew, as a cook would."""
    total = F(0)
    for number, word in re.findall(r"([\d.,¼½¾⅐-⅞]+)\u00a0(fl oz|[a-z]+)", text):
        key = word.replace("fl oz", "floz").removesuffix("s")
        known = next(unit(name) for name in (key, f"{system}_{key}", f"metric_{key}") if name in keys())
        total += number_of(number) * known.factor
    assert total, text
    return total


def check(amount: Amount, item: Ingredient, desk: Desk) -> str:
    """'' where it is shown as it should be, else what is wrong."""
    shown = desk.shown(amount, item, (), item.name, written=False)
    term = amount.terms[0]
    where = f"{item.key}: {term.low} {term.unit.name} in {desk.style.measures!r} is {shown.text!r}"
    if FORBIDDEN.search(shown.text) or not shown.text:
        return where
    for number, measure in SPOON.findall(shown.text):
        if set(number) - set("0123456789") - PARTS[measure.removesuffix("s")]:
            return f"{where}: no such {measure}"
    said, exact, grams = (
        _counted(shown, amount, item)
        if term.unit.dimension is Dimension.COUNT
        else _measured(shown, amount, item, desk)
    )
    if said is None or min(exact, exact if grams is None else grams) < EXEMPT_BELOW:
        return ""
    if care(item.name, item) is Care.NITRITE:
        # Never more than the sum says, and down to what a scale shows.
        step = F(5) if exact >= 100 and term.unit.dimension is Dimension.VOLUME else F(1, 10)
        return "" if 0 <= exact - said <= step and not SPOON.search(shown.text) else f"{where}: not rounded down"
    limit = bound(care(item.name, item).strict)
    return "" if within(said, exact, limit) else f"{where}, off by {float(said / exact - 1):.1%}"


def _measured(shown: Shown, amount: Amount, item: Ingredient, desk: Desk) -> tuple[F | None, F, F | None]:
    """What the words say, what they ought to, both in g or ml as the amount was written; and grams."""
    term = amount.terms[0]
    exact, density = term.base_high, density_of(item, (), None)
    own = term.unit.name.partition("_")[0]
    system = (
        "us" if desk.style.measures == "us" else own if own == "au" or desk.style.measures == "as written" else "metric"
    )
    words = shown.text.partition(" (")[2] or shown.text
    said = read(words, system)
    if term.unit.dimension is Dimension.MASS:
        return said, exact, exact
    # A volume may be said by weight, where the density is known.
    if re.search(r"\u00a0k?g\b", words):
        assert density is not None
        said /= density
    return said, exact, None if density is None else exact * density


def _counted(shown: Shown, amount: Amount, item: Ingredient) -> tuple[F | None, F, F | None]:
    """As `_measured`, in grams. Nothing is said of what is not cut, save that it comes as whole ones, and of what nobody has weighed."""
    term = amount.terms[0]
    each = item.weight_each(None, term.unit.name)
    if is_uncut(item, term.unit.name):
        assert shown.text.split("\u00a0")[0].isdigit(), shown.text
        return None, F(1), None
    if each is None:
        return None, F(1), None
    exact = term.high * each
    weights = re.findall(r"[\d.,]+\u00a0k?g\b", shown.text)
    if not weights:
        return number_of(re.split(r"[\u00a0 ]", shown.text)[0]) * each, exact, exact
    whole = re.match(r"(\d+) plus ", shown.text)
    return read(weights[0], "metric") + (F(whole[1]) * each if whole else 0), exact, exact


def turns(
    items: tuple[Ingredient, ...], written: tuple[Amount, ...], every: int
) -> Iterator[tuple[Amount, Ingredient, Desk]]:
    """Every ingredient with some of the grid, and all of the grid with some ingredient."""
    grid = [(much, factor, desk) for much in written for factor in FACTORS for desk in DESKS]
    for place, item in enumerate(items):
        for much, factor, desk in grid[place % every :: every]:
            yield much.scaled(factor), item, desk


def test_every_ingredient_in_every_measure_keeps_its_bound() -> None:
    wrong = [fault for amount, item, desk in turns(LARDER.all(), WRITTEN, 211) if (fault := check(amount, item, desk))]
    assert wrong == []


@pytest.mark.parametrize("kind", [kind for kind in Care if kind.strict])
def test_what_is_weighed_with_care_keeps_the_narrower_bound(kind: Care) -> None:
    items = tuple(item for item in LARDER.all() if care(item.name, item) is kind)
    assert items or kind is Care.NITRITE
    wrong = [fault for amount, item, desk in turns(items, WRITTEN, 13) if (fault := check(amount, item, desk))]
    assert wrong == []


def test_everything_that_is_counted_keeps_its_bound() -> None:
    wrong = []
    for item in LARDER.all():
        for key in sorted({each.unit for each in item.each}):
            written = tuple(one(quantity(F(number), unit(key))) for number in COUNTS)
            wrong += [fault for amount, _, desk in turns((item,), written, 7) if (fault := check(amount, item, desk))]
    assert wrong == []


def test_part_of_an_egg_is_grams() -> None:
    egg = LARDER.get("egg")
    assert egg is not None
    for factor in FACTORS:
        amount = one(quantity(3 * factor, unit("piece")))
        text = DESKS[0].shown(amount, egg, (), "eggs", written=False).text
        assert re.fullmatch(r"(?:\d+)?(?:(?: plus )?[\d.]+\u00a0g(?: beaten egg)?)?", text), text


def test_shopping_rounds_up() -> None:
    for written in WRITTEN:
        for factor in FACTORS:
            for desk in DESKS:
                need = written.scaled(factor).terms[0]
                bought = shopping(need, desk.style)
                assert bought.high is not None and bought.high >= need.base_high
                assert not FORBIDDEN.search(bought.text), bought.text


@pytest.fixture(scope="module")
def demo() -> Build:
    return compile_book(Path(__file__).parents[2] / "recipes")


def shown_on(sheet: DishSheet) -> Iterator[str]:
    """Every text on a card that holds an amount we have worded."""
    yield from (line.text for line in sheet.ingredients)
    yield from (line.text for group in sheet.groups for line in group.lines)
    yield from sheet.gear
    yield from sheet.notes
    for block in (block for strand in sheet.strands for block in strand.blocks):
        if isinstance(block, StepBlock):
            yield from (piece.text for piece in block.pieces if isinstance(piece, FoodPiece))
            yield from (result.text for result in block.results)


@pytest.mark.parametrize("measures", ["as written", "metric", "us"])
def test_whole_cards(demo: Build, measures: str) -> None:
    egg = re.compile(r"\d[.,]\d+ (?:\w+ )?eggs?\b|[¼⅓½⅔¾] (?:\w+ )?eggs?\b")
    for place, one_dish in enumerate(demo.book.dishes):
        # What is written for one plate or per piece is the cook's own.
        own = set(re.findall(r"\d+[.,/]\d+", one_dish.span.source.text))
        for factor in FACTORS[place % 3 :: 3]:
            plates = written_plates(one_dish)
            wanted = None if plates is None else plates * factor
            for text in shown_on(dish_sheet(demo.book, demo.larder, one_dish.key, wanted, Style(measures))):  # type: ignore[arg-type]
                faults = [found.group() for found in (*FORBIDDEN.finditer(text), *egg.finditer(text))]
                assert not [fault for fault in faults if not any(number in text and fault in text for number in own)], (
                    text
                )

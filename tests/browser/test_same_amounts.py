"""The script's wording of amounts against the compiler's, far beyond what the demo book has: every unit, any size, every switch."""

from __future__ import annotations

import random
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from on_disk import Watched
from playwright.sync_api import Page

from recipec.emit.live_figures import figures_script
from recipec.emit.live_slots import MEASURES, number
from recipec.emit.render import script
from recipec.measure.language import language_of
from recipec.measure.quantity import Amount, Dimension, Quantity, quantity
from recipec.measure.show import Style, shopping, show_amount, show_duration, show_nitrite
from recipec.measure.units import keys, unit

pytestmark = pytest.mark.browser

CASES = 6000
SHOWN = [key for key in keys() if unit(key).dimension in (Dimension.MASS, Dimension.VOLUME, Dimension.COUNT)]
SIZES = (None, None, None, "small", "large", "heaped", "scant", "level")


def some(chance: random.Random) -> Fraction:
    """A number as a cook writes one, or as scaling leaves one; from a hundredth to some thousands."""
    top = chance.choice((1, 2, 3, 4, 8, 15, 16, 40, 120, 250, 1000, 4000))
    return Fraction(chance.randint(1, top * 12), chance.choice((1, 1, 1, 2, 3, 4, 5, 6, 7, 8, 12, 16, 100)))


def cases() -> Iterator[tuple[Amount, dict[str, Any], dict[str, Any]]]:
    """Amounts, with the switches of `show_amount` and the slot that says the same."""
    chance = random.Random(6)
    for _ in range(CASES):
        key = chance.choice(SHOWN)
        low = some(chance)
        high = low * chance.choice((1, 1, 1, Fraction(3, 2), 2))
        terms = [quantity(low, unit(key), high)]
        if chance.random() < 0.1:
            terms.append(quantity(some(chance), unit(chance.choice(SHOWN))))
        counted = terms[0].unit.dimension is Dimension.COUNT
        each = quantity(chance.choice((120, 250, 400)), unit(chance.choice("g ml oz".split())))
        amount = Amount(
            tuple(terms),
            about=chance.random() < 0.2,
            each=each if counted and chance.random() < 0.2 else None,
            size=chance.choice(SIZES),
        )
        how: dict[str, Any] = {
            "strict": chance.random() < 0.3,
            "density": chance.choice((None, Fraction(1), Fraction(3, 5), Fraction(14, 15))),
            "each": chance.choice((None, Fraction(5), Fraction(50), Fraction(333, 2))) if counted else None,
            "rest": "beaten egg" if key == "piece" and chance.random() < 0.3 else "",
            "uncut": counted and chance.random() < 0.1,
            "solid": chance.random() < 0.5,
            "written": chance.random() < 0.2,
        }
        yield amount, how, slot_of(amount, how)


def slot_of(amount: Amount, how: dict[str, Any]) -> dict[str, Any]:
    slot: dict[str, Any] = {"t": [row(term) for term in amount.terms]}
    if amount.about:
        slot["a"] = 1
    if amount.each:
        slot["e"] = [number(amount.each.low), number(amount.each.high), amount.each.unit.name]
    if amount.size:
        slot["z"] = amount.size
    for key, name in (("x", "strict"), ("o", "solid"), ("u", "uncut"), ("w", "written")):
        if how[name]:
            slot[key] = 1
    for key, name in (("n", "density"), ("k", "each")):
        if how[name]:
            slot[key] = number(how[name])
    if how["rest"]:
        slot["q"] = how["rest"]
    return slot


def row(term: Quantity) -> list[Any]:
    return [term.unit.name, 0, number(term.low), 0, number(term.high)]


@pytest.fixture(params=["en", "de", "fr"])
def language(request: pytest.FixtureRequest) -> str:
    """Decimal marks, plurals and words differ."""
    found: str = request.param
    return found


@pytest.fixture
def sums(watched: Watched, language: str, tmp_path: Path) -> Page:
    """A page with nothing on it but the script and a language's figures."""
    (tmp_path / "figures.js").write_text(figures_script(language_of(language)), encoding="utf-8")
    (tmp_path / "sums.js").write_text(script("sums.js"), encoding="utf-8")
    scripts = '<script src="figures.js"></script><script src="sums.js"></script>'
    (tmp_path / "sums.html").write_text(
        f'<!DOCTYPE html><meta charset="utf-8"><title>Sums</title>{scripts}', encoding="utf-8"
    )
    return watched.open(tmp_path / "sums.html")


def test_amounts(sums: Page, language: str) -> None:
    all_of_them = list(cases())
    said = sums.evaluate(
        """([slots, measures]) => slots.map((slot) => measures.map((each) => {
          const words = Sums.use(slot, Sums.one, each);
          return [words.head, words.tail];
        }))""",
        [[slot for _, _, slot in all_of_them], list(MEASURES)],
    )
    for (amount, how, _), spoken in zip(all_of_them, said, strict=True):
        for measures, words in zip(MEASURES, spoken, strict=True):
            shown = show_amount(amount, Style(measures, language), **how)
            assert words == [shown.head, shown.tail], (amount, how, measures)


def test_curing_salt_is_rounded_down(sums: Page, language: str) -> None:
    chance = random.Random(7)
    amounts = [
        quantity(some(chance), unit(key))
        for key in SHOWN
        if unit(key).dimension is not Dimension.COUNT
        for _ in range(20)
    ]
    said = sums.evaluate(
        "(rows) => rows.map((row) => Sums.use({ t: [row], d: 1 }, Sums.one, 'metric').head)",
        [row(one) for one in amounts],
    )
    assert said == [show_nitrite(one, Style(language=language)).head for one in amounts]


def test_what_is_used_up_is_rounded_up(sums: Page, language: str) -> None:
    chance = random.Random(8)
    amounts = [quantity(some(chance), unit(key)) for key in SHOWN for _ in range(10)]
    for measures in MEASURES:
        said = sums.evaluate(
            """([rows, measures]) => rows.map((row) => Sums.gear({ t: [row], N: "ice", S: "" }, Sums.read(2), measures, "").name)""",
            [[[one.unit.name, number(one.low / 2)] for one in amounts], measures],
        )
        assert said == [f"{shopping(one, Style(measures, language)).text} ice" for one in amounts]


def test_durations(sums: Page, language: str) -> None:
    chance = random.Random(9)
    ends = []
    for _ in range(1500):
        low = Fraction(
            chance.randint(1, chance.choice((90, 600, 4000, 90_000, 3_000_000))), chance.choice((1, 1, 2, 3, 7))
        )
        ends.append((low, low * chance.choice((1, 1, 2, Fraction(4, 3)))))
    said = sums.evaluate(
        "(all) => all.map((ends) => Sums.duration(Sums.read(ends[0]), Sums.read(ends[1])))",
        [[str(low), str(high)] for low, high in ends],
    )
    assert said == [show_duration(low, high, language_of(language)) for low, high in ends]

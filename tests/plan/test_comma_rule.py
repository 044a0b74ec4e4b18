"""The comma rule: trimmed before weighing, more is bought; trimmed after, what is written is what is bought."""

from __future__ import annotations

from fractions import Fraction as F

import pytest

from recipec.larder.larder import Larder
from recipec.measure.quantity import Amount
from recipec.measure.show import Style
from recipec.plan.demand import Run
from recipec.plan.gather import Want, wants_of
from tests.analyse.book import dish as analysed
from tests.plan.make import Mark, amount, buy, dish, food, knowing

SQUASH = food("squash", "squash", "produce", yields=(("peeled", "4/5"), ("seeded", "9/10")))
MEDLAR = food(
    "medlar", "medlars", "produce", yields=(("peeled", "4/5"), ("cored", "9/10"), ("peeled and cored", "3/4"))
)
LARDER = knowing(SQUASH, MEDLAR)


def want(mark: Mark, larder: Larder = LARDER) -> Want:
    made = dish("trial", mark, larder=larder)
    ((_, (found,)),) = wants_of([Run(made, (), F(1), F(4), F(0), made.uses)], larder, Style())
    return found


@pytest.mark.parametrize(
    ("written", "name", "before", "after", "much", "bought", "left"),
    [
        ("400 g peeled squash", "squash", ("peeled",), (), amount(400, "g"), amount(500, "g"), F(4, 5)),
        ("400 g squash, peeled", "squash", (), ("peeled",), amount(400, "g"), amount(400, "g"), F(1)),
        ("8 cups peeled squash", "squash", ("peeled",), (), amount(8, "us_cup"), amount(10, "us_cup"), F(4, 5)),
        ("2 peeled squash", "squash", ("peeled",), (), amount(2), amount(2), F(1)),
        ("400 g chopped squash", "squash", ("chopped",), (), amount(400, "g"), amount(400, "g"), F(1)),
        # Published refuse is all of it, peel and seeds: the least of the two, never one on top of the other.
        ("400 g peeled and seeded squash", "squash", ("peeled", "seeded"), (), amount(400, "g"), amount(500, "g"), F(4, 5)),
        ("400 g seeded peeled squash", "squash", ("seeded", "peeled"), (), amount(400, "g"), amount(500, "g"), F(4, 5)),
        ("300 g neatly peeled medlars", "medlar", ("neatly peeled",), (), amount(300, "g"), amount(375, "g"), F(4, 5)),
        ("300 g cored peeled medlars", "medlar", ("cored", "peeled"), (), amount(300, "g"), amount(400, "g"), F(3, 4)),
        # Of the stones nothing is known, of the peel it is: that much more at least.
        ("400 g peeled stoned squash", "squash", ("peeled", "stoned"), (), amount(400, "g"), amount(500, "g"), F(4, 5)),
    ],
)  # fmt: skip
def test_what_is_bought(
    written: str, name: str, before: tuple[str, ...], after: tuple[str, ...], much: Amount, bought: Amount, left: F
) -> None:
    found = want(buy(written, name, much, before=before, after=after))
    assert (found.amount, found.left) == (bought, left)


def slugs(body: str) -> list[str]:
    return [finding.slug for finding in analysed(body).findings if finding.slug == "no-yield"]


def test_an_unknown_yield_is_told_where_a_sum_needs_it() -> None:
    assert slugs("Fry [250 g drained kimchi] for <4 min>.") == ["no-yield"]
    assert slugs("Fry [1 cup drained kimchi] for <4 min>.") == ["no-yield"]
    assert slugs("Fry [100 g butter or 250 g drained kimchi] for <4 min>.") == ["no-yield"]


@pytest.mark.parametrize(
    "mark",
    [
        "250 g kimchi, drained",
        "250 g chopped kimchi",
        "400 g peeled potatoes",
        "3 peeled potatoes",
        "drained kimchi, to taste",
        "1 bunch picked chervil",
        "250 g drained moonfruit",
    ],
)
def test_it_is_silent_where_none_does(mark: str) -> None:
    assert slugs(f"Fry [{mark}] for <4 min>.") == []

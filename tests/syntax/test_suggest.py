"""Nearest names: slips of the hand, in an order that never changes."""

from __future__ import annotations

import pytest

from recipec.base.suggest import distance, nearest

FACTS = ("serves", "makes", "course", "keeps", "tags", "source")


@pytest.mark.parametrize(
    ("a", "b", "steps"),
    [("serves", "serves", 0), ("servs", "serves", 1), ("sevres", "serves", 1), ("tags", "keeps", 4), ("", "ab", 2)],
)
def test_letters_to_change(a: str, b: str, steps: int) -> None:
    assert distance(a, b, 9) == distance(b, a, 9) == steps


def test_past_the_limit_counting_stops() -> None:
    assert distance("serves", "tolerance", 2) == 3
    assert distance("a", "a" * 90, 4) == 5


def test_nearest_first_then_by_the_alphabet() -> None:
    assert nearest("Servs", FACTS) == ("serves",)
    assert nearest("corse", ("course", "coarse", "horse")) == ("coarse", "course", "horse")
    assert nearest("corse", ("course", "coarse", "horse"), most=1) == ("coarse",)
    assert nearest("photograph", FACTS) == ()

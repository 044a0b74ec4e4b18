"""Names that mislead: a thing is never taken for another, nor an allergen for free because it was not understood."""

from __future__ import annotations

from pathlib import Path

import pytest

from recipec.larder.ingredient import ALLERGENS, Ingredient, Presence
from recipec.larder.larder import builtin

SAID = {"+": Presence.CONTAINS, "~": Presence.MAY_CONTAIN, "-": Presence.NOT_IN_RECIPE, "?": Presence.UNKNOWN}
LINES = (Path(__file__).parent / "traps.tsv").read_text("utf-8").splitlines()
TRAPS = [[*line.split("\t"), ""][:3] for line in LINES if not line.startswith("#")][1:]
LARDER = builtin()


def test_there_are_enough_and_each_once() -> None:
    assert len(TRAPS) >= 150
    assert len({words for words, *_ in TRAPS}) == len(TRAPS)
    assert sum(key == "-" for _, key, _ in TRAPS) >= 60
    assert {word for *_, said in TRAPS for word in said.split()[::2]} == set(ALLERGENS)


@pytest.mark.parametrize(("words", "key", "said"), TRAPS, ids=[words for words, *_ in TRAPS])
def test_a_trap(words: str, key: str, said: str) -> None:
    for written in (words, words.upper(), f"  {words} "):
        match = LARDER.find(written)
        assert ("-" if match is None else match.ingredient.key) == key
    if match is None:
        assert not said
        return
    for allergen, sign in zip(said.split()[::2], said.split()[1::2], strict=True):
        assert match.ingredient.presence(allergen) is SAID[sign], allergen


@pytest.mark.parametrize("item", LARDER.all(), ids=lambda item: item.key)
def test_an_unknown_word_before_a_name_makes_it_unknown(item: Ingredient) -> None:
    """`vegan butter`, `mock duck`: nobody knows what that holds, whatever stands behind."""
    for word in ("vegan", "mock", "gluten-free", "plant-based", "chocolate-coated", "instead-of"):
        if f"{word} {item.key}" not in {item.key, *item.aliases}:
            match = LARDER.find(f"{word} {item.key}")
            assert match is None or match.ingredient.key.startswith(word)

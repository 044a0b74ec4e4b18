"""The pictures that README.md shows are there, are pictures, and are small."""

from __future__ import annotations

import re
from pathlib import Path

from recipec.book.photos import shape_of
from tests.pictures import LARGEST, ROOT, as_written


def test_the_pictures_of_the_readme() -> None:
    shown = re.findall(r"!\[([^\]]+)\]\(([^)]+)\)", (ROOT / "README.md").read_text("utf-8"))
    assert [Path(path).name for _, path in shown] == ["dish.png", "card.png", "list.png"]
    for words, path in shown:
        data = (ROOT / path).read_bytes()
        shape = shape_of(data)
        assert words
        assert shape is not None
        assert shape.ending == "png"
        assert shape.width > 800
        assert len(data) <= LARGEST


def test_a_dish_is_drawn_as_it_is_written() -> None:
    assert "for &lt;6 min&gt;" in as_written("Boil [4 eggs] for <6 min>.\n")

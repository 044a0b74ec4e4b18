"""The Recipe data of every dish against the published vocabulary, by npm's schema-dts (types of schema.org) and typescript.

The types take any text for a duration, so those are held to ISO 8601 here.
"""

from __future__ import annotations

import json
import re
import subprocess
from pathlib import Path

from node_tools import type_check

SCRIPT = re.compile(r'<script type="application/ld\+json">(.*?)</script>', re.DOTALL)
# ISO 8601-1:2019, 5.5.2.3, without years, months and weeks, and with at least one part.
ISO = re.compile(r"P(?=.)(\d+D)?(T(?=\d)(\d+H)?(\d+M)?(\d+S)?)?")


def _data(demo: Path) -> list[str]:
    return [
        found for file in sorted((demo / "dishes").glob("*.html")) for found in SCRIPT.findall(file.read_text("utf-8"))
    ]


def _compile(tmp_path: Path, values: list[str]) -> subprocess.CompletedProcess[str]:
    lines = [f"export const dish{place}: WithContext<Recipe> = {value};" for place, value in enumerate(values)]
    source = "\n".join(['import type { Recipe, WithContext } from "schema-dts";', *lines])
    return type_check(tmp_path, "schema-dts", source)


def test_every_dish_is_a_recipe(demo: Path, tmp_path: Path) -> None:
    values = _data(demo)
    assert len(values) == len(list((demo / "dishes").glob("*.html"))) > 15
    result = _compile(tmp_path, values)
    assert result.returncode == 0, result.stdout + result.stderr


def test_the_types_would_tell(tmp_path: Path) -> None:
    wrong = json.dumps({"@context": "https://schema.org", "@type": "Recipe", "recipeInstructions": {"@type": "Oven"}})
    assert _compile(tmp_path, [wrong]).returncode != 0


def test_every_dish_has_its_name_food_and_steps(demo: Path) -> None:
    for value in _data(demo):
        dish = json.loads(value)
        assert dish["@type"] == "Recipe"
        assert dish["name"]
        assert dish["recipeIngredient"]
        assert dish["recipeInstructions"]
        for duration in (dish[name] for name in ("totalTime", "prepTime", "cookTime") if name in dish):
            assert ISO.fullmatch(duration), duration

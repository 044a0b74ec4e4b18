"""A dish as schema.org data: true, complete, and unable to leave its script element."""

from __future__ import annotations

import json
import re

import pytest
import sheets
from hypothesis import given
from hypothesis import strategies as st

from recipec.emit.jsonld import embedded, iso_duration, recipe, total_seconds

# ISO 8601-1:2019, 5.5.2.3: a designated duration without years, months or weeks.
ISO = re.compile(r"P(?=.)(?:(\d+)D)?(?:T(?=.)(?:(\d+)H)?(?:(\d+)M)?(?:(\d+)S)?)?")


@given(st.integers(min_value=0, max_value=10**9))
def test_a_duration_says_its_seconds(seconds: int) -> None:
    match = ISO.fullmatch(iso_duration(seconds))
    assert match
    days, hours, minutes, rest = (int(part or 0) for part in match.groups())
    assert ((days * 24 + hours) * 60 + minutes) * 60 + rest == seconds
    assert hours < 24
    assert minutes < 60
    assert rest < 60


@pytest.mark.parametrize(
    ("seconds", "text"), [(0, "PT0S"), (90, "PT1M30S"), (5400, "PT1H30M"), (86_400, "P1D"), (90_000, "P1DT1H")]
)
def test_durations_by_hand(seconds: int, text: str) -> None:
    assert iso_duration(seconds) == text


def test_a_total_is_said_only_where_it_is_known() -> None:
    assert total_seconds(sheets.stock()) == 90 * 60
    assert recipe(sheets.stock(), "Ines", "en")["totalTime"] == "PT1H30M"
    assert "totalTime" not in recipe(sheets.leeks(), "Ines", "en")


def test_what_a_dish_says() -> None:
    data = recipe(sheets.leeks(), "Ines Varga", "en")
    assert data["name"] == "Charred leeks with oats"
    assert data["recipeYield"] == ["4\u00a0plates"]
    assert data["author"] == {"@type": "Person", "name": "Ines Varga"}
    assert data["tool"] == ["frying pan, 28 cm", "oven"]
    assert "120\u00a0g butter" in data["recipeIngredient"]
    sections = data["recipeInstructions"]
    assert isinstance(sections, list)
    assert [section["name"] for section in sections] == ["For the crumb", "For the leeks", "To plate"]
    assert sections[0]["itemListElement"][0]["text"].startswith(
        "Toast 60\u00a0g oats, jumbo in a frying pan, 28 cm for 7–10\u00a0min"
    )


def test_no_author_no_course_no_word_of_them() -> None:
    data = recipe(sheets.stock(), "", "en")
    assert "author" not in data
    assert "" not in data.values()


@given(st.text())
def test_nothing_gets_out_of_the_script_element(text: str) -> None:
    said = embedded({"name": text})
    assert "<" not in said
    assert ">" not in said
    assert "&" not in said
    json.loads(said)

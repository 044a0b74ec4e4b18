"""Food that a dish only speaks of: never a false "not in recipe", and never noise."""

from __future__ import annotations

from pathlib import Path

import pytest

from recipec.book.compile import Build, compile_book
from recipec.larder.ingredient import Presence
from recipec.plan.fill import dish_sheet
from recipec.plan.guests import guests_of

EVENT = "Lunch\nguests: 4\nserve: 2026-06-20 13:00\nseat 2: allergic to milk\n\nMain, <13:00>:\n\n[our plate]\n"
RECIPES = Path(__file__).parents[2] / "recipes"


def book(folder: Path, steps: str) -> Build:
    (folder / "cookbook.toml").write_text('title = "B"\nmeasures = "metric"\n', encoding="utf-8")
    (folder / "plate.dish").write_text(f"Plate\nserves: 4\n\n{steps}\n", encoding="utf-8")
    (folder / "lunch.event").write_text(EVENT, encoding="utf-8")
    return compile_book(folder, cached=False, events=False)


@pytest.mark.parametrize(
    ("steps", "word"),
    [
        ("Boil [400 g green beans] for <5 min>. Finish with a little butter.", "butter"),
        ("Boil [400 g green beans] for <5 min>. Strew hazelnuts over.", "hazelnuts"),
        ("Boil [400 g green beans] for <5 min>. Season with soy sauce.", "soy sauce"),
        ("Boil [400 g green beans] in [20 g butter] for <5 min>. Add the rest of the butter.", None),
        ("Boil [400 g green beans] in [20 g butter] for <5 min>. Add the cream.", None),
        ("Cut [400 g potatoes] to the size of walnuts.", None),
        ("Dress [400 g green beans] with olive oil and salt.", None),
    ],
)
def test_a_food_that_would_bring_an_allergen_is_told(tmp_path: Path, steps: str, word: str | None) -> None:
    found = [one.span.text for one in book(tmp_path, steps).findings if one.slug == "unmarked-food"]
    assert found == ([] if word is None else [word])


def test_the_matrix_never_calls_it_not_in_the_recipe(tmp_path: Path) -> None:
    build = book(tmp_path, "Boil [400 g green beans] for <5 min>. Finish with a little butter.")
    event = build.book.event("lunch")
    assert event is not None
    (served,) = guests_of(build.book, build.larder, event).served
    assert served.row.cells["milk"].presence is Presence.MAY_CONTAIN
    assert "allergen-served" in [one.slug for one in build.findings]


def test_a_dish_and_what_is_made_with_it_say_may_contain(tmp_path: Path) -> None:
    (tmp_path / "bowl.dish").write_text("Bowl\nserves: 2\n\nWarm [2 plates our plate].\n", encoding="utf-8")
    build = book(tmp_path, "Boil [400 g green beans] for <5 min>. Finish with a little butter.")
    for key in ("plate", "bowl"):
        answer = dish_sheet(build.book, build.larder, key).allergens
        assert "milk" in answer.may_contain and "milk" not in answer.contains


def test_the_demo_book_raises_no_false_alarm() -> None:
    build = compile_book(RECIPES, cached=False, events=False)
    assert [one.message for one in build.findings if one.slug == "unmarked-food"] == []

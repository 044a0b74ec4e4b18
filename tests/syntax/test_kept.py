"""A mark that was met before gives the very node that a fresh reading gives, wherever it stands."""

from __future__ import annotations

from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from recipec.base.source import Source
from recipec.syntax.kept import Kept, kept
from recipec.syntax.parse import Parsed, parse
from recipec.syntax.tree import Step

RECIPES = Path(__file__).resolve().parent.parent.parent / "recipes"
MARKS = (
    "[200 g butter, cubed, cold]",
    "[half the brown butter]",
    "[120 ml cream or 120 ml oat cream, optional]",
    "[zest of 1 lemon]",
    "[salt, 2.2% of the duck legs]",
    "[1 egg plus 1 yolk]",
    "[2 x 400 g tins tomatoes]",
    "{frying pan, takes 2 plates}",
    "{2 sheets baking paper}",
    "<40 min, turn at 20 min>",
    "<50 °C core, rises to 54>",
    "<6 min, until it smells of nuts>",
    "[, nothing]",
    "[200 g]",
    "<20 parsecs>",
)


def fresh(text: str) -> Parsed:
    kept.cache_clear()
    return parse(Source("a.dish", text), "dish")


def test_the_demo_book_reads_the_same_again_and_again() -> None:
    for path in sorted(RECIPES.rglob("*.dish")):
        text = path.read_text(encoding="utf-8")
        first = fresh(text)
        for _ in range(5):
            assert parse(Source("a.dish", text), "dish") == first


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.sampled_from(MARKS), st.text(" abc\n", max_size=6)), min_size=1, max_size=30))
def test_marks_in_any_order_read_as_fresh_ones(parts: list[tuple[str, str]]) -> None:
    text = "Title\n\nPut " + "x".join(mark + words for mark, words in parts) + " in.\n"
    once = fresh(text)
    # Twice as much of it, so that most marks have been met often.
    assert len(parse(Source("a.dish", text * 4), "dish").tree.blocks) > len(once.tree.blocks)
    assert parse(Source("a.dish", text), "dish") == once


def test_what_was_found_wrong_is_said_every_time() -> None:
    text = "Title\n\n" + "\n\n".join("Stir in [200 g] now." for _ in range(8)) + "\n"
    assert [finding.slug for finding in fresh(text).findings] == ["empty-mark"] * 8


NUMBERED = (
    "[{} g butter, cubed]",
    "[{} large eggs]",
    "[{} dozen eggs]",
    "[{} to 3 sprigs thyme]",
    "[{} and a half cups milk]",
    "[{} x 400 g tins tomatoes]",
    "[{} tins (400 g) tomatoes]",
    "[{} g of the crumb]",
    "[{} plates of our braised shoulder]",
    "[{} cloves garlic or {} g garlic paste]",
    "[1 {}-ounce can tomatoes]",
    "[{}% of the dough]",
    "[{} T sugar]",
    "[{}]",
    "{{{} baking sheets}}",
    "{{{} x 13 inch tin}}",
    "{{{} sheets baking paper}}",
    "<{} min, until soft>",
    "<{} h 30 min>",
    "<{} d alone>",
    "<{} °C>",
    "<{} °C core, rises to 54>",
    "<{} °F fan>",
    "<gas {}>",
    "<{} min per plate>",
    "<{} x 5 min>",
    "<{} mm>",
    "<{} ml>",
)
numbers = st.sampled_from([0, 1, 2, 3, 4, 7, 9, 10, 12, 30, 99, 100, 225, 999, 1000, 9999])


@settings(max_examples=150, deadline=None)
@given(st.sampled_from(NUMBERED), st.lists(numbers, min_size=4, max_size=8), st.booleans())
def test_a_mark_is_kept_for_any_number_only_where_nothing_else_changes(form: str, all_: list[int], apart: bool) -> None:
    texts = [f"Title\n\n{'Now s' if apart else 'S'}tir {form.format(number, number)} in.\n" for number in all_]
    singly = [fresh(text) for text in texts]
    kept.cache_clear()
    for text, once in zip(texts, singly, strict=True):
        assert parse(Source("a.dish", text), "dish") == once


def test_a_number_never_read_is_made_from_three_that_were() -> None:
    texts = [f"Title\n\nMelt [{number} g butter, cubed] now.\n" for number in (5, 60, 700, 8000)]
    last = fresh(texts[-1])
    kept.cache_clear()
    for text in texts[:3]:
        parse(Source("a.dish", text), "dish")
    mark = "[8000 g butter, cubed]"
    made = kept("en", False).make(mark, Source("a.dish", texts[-1]), texts[-1].index(mark))
    step = last.tree.blocks[0]
    assert isinstance(step, Step)
    assert made == step.sentences[0].pieces[1]


def test_what_is_counted_is_bounded() -> None:
    one = Kept()
    for number in range(20_000):
        one.met(f"[flour of mill {number}]", None, 0)
        one.met(f"[5 g {chr(0x4E00 + number)}]", None, 0)
    one.met("x" * 500, None, 0)
    assert len(one._met) == 8192
    assert len(one._samples) <= 2049

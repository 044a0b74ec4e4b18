"""What a page's script is given, and how it is squeezed. That it says what the compiler says, a browser tests: tests/browser."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path

import pytest

from recipec.book.compile import compile_book
from recipec.emit.abreast import abreast
from recipec.emit.desk import desk_for_one, sheet
from recipec.emit.dish_page import board, dish_page
from recipec.emit.live import STILL, live
from recipec.emit.paper import Request
from recipec.emit.render import script, scripts, styles
from recipec.emit.search_data import free_of
from recipec.emit.squeeze import squeezed_script, squeezed_style
from recipec.larder.ingredient import ALLERGENS
from recipec.measure.exported import figures
from recipec.measure.language import language_of
from recipec.measure.units import keys, unit
from recipec.model.dish import Dish
from recipec.plan.allergens import AllergenAnswer
from recipec.plan.scale import scale

RECIPES = Path(__file__).parents[2] / "recipes"


@pytest.fixture(scope="module")
def request_() -> Request:
    build = compile_book(RECIPES, cached=False, events=False)
    return Request(build.book, build.larder, build.findings)


def test_an_amount_is_the_same_line_at_a_third_number_of_plates(request_: Request) -> None:
    # A slot is a + b × times, from the dish made once and twice: at seven times, and a third, the compiler must agree.
    checked = 0
    for dish in request_.book.dishes:
        once, twice = scale(dish, Fraction(1)), scale(dish, Fraction(2))
        for factor in (Fraction(7), Fraction(1, 3)):
            other = scale(dish, factor)
            for use in dish.uses:
                one, two, there = (scaled.amount(use) for scaled in (once, twice, other))
                if one is None or two is None or there is None:
                    continue
                for first, second, third in zip(one.terms, two.terms, there.terms, strict=True):
                    for end in ("low", "high"):
                        a, b, c = (getattr(term, end) for term in (first, second, third))
                        assert c == a + (b - a) * (factor - 1)
                        checked += 1
    assert checked > 500


def test_every_amount_of_the_demo_book_has_a_slot_or_never_changes(request_: Request) -> None:
    for dish in request_.book.dishes:
        shown = sheet(request_, dish.key)
        groups = board(shown)
        slots = live(request_.book, request_.larder, shown, groups)
        more = sheet(request_, dish.key, shown.plates * 3) if shown.plates else shown
        for group, other in zip(groups, board(more), strict=True):
            for line, scaled in zip(group.lines, other.lines, strict=True):
                assert slots.food(line).use is not None or line.text == scaled.text


def test_a_dish_that_is_no_more_than_its_sheet_stays_still(request_: Request) -> None:
    shown = sheet(request_, request_.book.dishes[0].key)
    empty = request_.book._replace(dishes=())
    assert live(empty, request_.larder, shown, board(shown)) is STILL


def test_figures_are_the_compilers_own() -> None:
    data = figures(language_of("en"))
    assert isinstance(data["units"], dict)
    assert isinstance(data["counts"], str)
    assert {*data["units"], *data["counts"].split()} == {key for key in keys() if unit(key).dimension.value != "power"}
    assert data["units"]["us_cup"] == ["volume", str(unit("us_cup").factor), "cup"]
    german = figures(language_of("de"))
    assert german["mark"] == ","


def test_weight_of_a_page_with_its_styles_and_scripts(request_: Request) -> None:
    from recipec.emit.assets import assets

    on_desk = desk_for_one(request_)
    files = {paper.path: paper.data for paper in assets(on_desk)}
    names = ("base.css", "dish.css", "paper-a4.css", "figures.js", "sums.js", "dish.js")
    beside = sum(len(files[f"assets/{name}"]) for name in names)
    pages = [len(dish_page(on_desk, sheet(request_, dish.key)).data) for dish in request_.book.dishes]
    assert max(pages) + beside < 60_000


# ---------------------------------------------------------------- squeezing


def test_a_squeezed_script_keeps_texts_patterns_and_properties() -> None:
    text = """
    // A remark.
    var total = { length: 1, note: "a // b" }; /* gone */
    function twice(value, list) {
      var found = list.map(one => one.value);
      return total.length + value / 2 + +value + "x y".search(/\\/ [a-z]/g), Math.max(...found);
    }
    """
    short = squeezed_script(text)
    assert "remark" not in short
    assert "gone" not in short
    for kept in ('"a // b"', "length:1", ".value", ".search(", "/\\/ [a-z]/g", '"x y"', "Math.max(...", "+ +"):
        assert kept in short, short
    for renamed in ("total", "twice", "found"):
        assert renamed not in short, short


def test_scripts_keep_to_what_squeezing_knows() -> None:
    folder = Path(__file__).parents[2] / "site" / "scripts"
    assert set(scripts()) == {file.name for file in folder.glob("*.js")}
    for file in folder.glob("*.js"):
        text = file.read_text(encoding="utf-8")
        assert "`" not in text, "template strings are not read"
        assert "eval(" not in text
        assert "innerHTML" not in text, "text goes in as text"
        assert len(script(file.name)) < len(text)


def test_a_squeezed_style_says_the_same() -> None:
    short = squeezed_style(
        'a > b , c {\n  color : red; /* x */\n  content: "→  ;" / "";\n}\n@media (a: b) and (c) {\n}'
    )
    assert short == 'a > b,c{color :red;content:"→  ;" / ""}@media (a:b) and (c){}\n'
    for name, text in styles().items():
        assert squeezed_style(text).count("{") == text.count("{"), name


# ---------------------------------------------------------------- side by side, and finding


def _dish(request: Request, key: str) -> Dish:
    dish = request.book.dish(key)
    assert dish is not None
    return dish


def test_steps_stand_side_by_side_and_never_before_what_they_wait_for(request_: Request) -> None:
    drawn = 0
    for dish in request_.book.dishes:
        figure = abreast(dish, sheet(request_, dish.key))
        if figure is None:
            continue
        drawn += 1
        places = {}
        for row in figure.rows:
            assert sum(cell.width for cell in row.cells) == figure.width
            place = 0
            for cell in row.cells:
                if cell.number is not None:
                    places[cell.number] = place
                place += cell.width
        for step in dish.steps():
            assert all(places[number + 1] < places[step.number + 1] for number in step.waits)
        assert len(places) == len(dish.steps())
    assert drawn > 10


def test_a_dish_of_one_strand_has_no_figure(request_: Request) -> None:
    dish = _dish(request_, "golden-vegetable-stock")
    assert abreast(dish, sheet(request_, dish.key)) is None


def test_unknown_and_may_contain_are_never_free() -> None:
    milk, nuts = ALLERGENS.index("milk"), ALLERGENS.index("nuts")
    assert milk in free_of(AllergenAnswer((), (), ()))
    assert milk not in free_of(AllergenAnswer(("milk",), (), ()))
    assert nuts not in free_of(AllergenAnswer(("milk",), ("nuts",), ()))
    assert free_of(AllergenAnswer((), (), ("pickled walnuts",))) == ()


def test_the_island_is_data(request_: Request) -> None:
    page = dish_page(desk_for_one(request_), sheet(request_, "salt-baked-beetroot")).data.decode("utf-8")
    island = page.partition('id="slots">')[2].partition("</script>")[0]
    data = json.loads(island)
    assert data["plates"] == 8
    assert data["measures"] == "metric"

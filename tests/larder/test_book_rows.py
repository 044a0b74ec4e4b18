"""A book's larder.csv: read, laid over the built-in larder, and its faults placed."""

from __future__ import annotations

import re
from fractions import Fraction as F
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipec.base.finding import KINDS
from recipec.base.source import Source
from recipec.larder.book_rows import COLUMNS, read_larder_csv
from recipec.larder.ingredient import Ingredient, Presence
from recipec.larder.larder import Larder, builtin

ROOT = Path(__file__).resolve().parents[2]
# The order of these columns is a cook's own.
HEADER = "name,plural,aliases,department,density,each,allergens,animal,source,yield,parts\n"


def over(text: str) -> Larder:
    rows, findings = read_larder_csv(Source("larder.csv", HEADER + text))
    assert not findings
    return builtin().with_rows(rows)


def get(larder: Larder, words: str) -> Ingredient:
    match = larder.find(words)
    assert match is not None
    return match.ingredient


def test_a_new_thing() -> None:
    larder = over(
        'Mill flour,,"barley meal; mill meal",dry goods,sifted 0.4; 0.5,,gluten:barley; may contain nuts,none,the miller\n'
    )
    item = get(larder, "barley meal")
    assert (item.key, item.name, item.department) == ("mill flour", "Mill flour", "dry goods")
    assert item.density(("sifted",)) == F(2, 5)
    assert item.density() == F(1, 2)
    assert (item.allergens, item.named, item.animal, item.source) == (("gluten",), ("barley",), (), "the miller")
    assert item.presence("nuts") is Presence.MAY_CONTAIN
    assert item.presence("milk") is Presence.NOT_IN_RECIPE
    assert builtin().find("barley meal") is None


def test_blank_cells_leave_what_is_known() -> None:
    known = get(builtin(), "eggs")
    item = get(over("eggs,,,,,large 63 g,,,our hens\n"), "egg")
    assert item.key == "egg"
    assert item.weight_each("large") == 63
    assert item.weight_each("small") == known.weight_each("small")
    assert (item.allergens, item.animal, item.department) == (known.allergens, known.animal, known.department)


def test_yields_and_parts_of_the_book() -> None:
    larder = over(
        "squash,,,,,,,,our squash,peeled 80%; peeled and seeded 62.5%,\n"
        "lemons,,,,,,,,,,Juice 60 ml; zest 5 g\n"
        "moon plum,,,,,,,,,stoned 0.5%,juice 0.02 l; peels 0.01 kg\n"
    )
    squash, lemon, yuzu = get(larder, "squash"), get(larder, "lemon"), get(larder, "moon plum")
    assert squash.left_after("peeled") == F(4, 5)
    assert squash.left_after("peeled", "neatly seeded") == F(5, 8)
    assert squash.yields[0].source == "our squash"
    assert get(builtin(), "butternut squash").left_after("peeled") == F(84, 100)
    juice, zest = lemon.part("juice"), lemon.part("zest")
    assert juice is not None and zest is not None
    assert (juice.amount, juice.unit, juice.source) == (60, "ml", "the book's larder.csv")
    # How long it keeps stays as it was known.
    known = get(builtin(), "lemon").part("zest")
    assert known is not None and (zest.amount, zest.keeps) == (5, known.keeps)
    assert yuzu.left_after("pitted") == F(1, 200)
    assert [(part.part, part.amount, part.unit) for part in yuzu.parts] == [("juice", 20, "ml"), ("peel", 10, "g")]


def test_the_example_of_the_reference() -> None:
    (example,) = re.findall(
        r"^```csv larder\.csv\n(.+?)^```", (ROOT / "grammar/README.md").read_text("utf-8"), re.M | re.S
    )
    rows, findings = read_larder_csv(Source("larder.csv", example))
    assert not findings and len(rows) == 3
    larder = builtin().with_rows(rows)
    assert get(larder, "Tay Farm lemons").left_after("peeled, segmented") == F(12, 25)
    assert get(larder, "duck").left_after("boned") == F(29, 50)
    described = (ROOT / "grammar/README.md").read_text("utf-8").partition("```csv larder.csv")[2].partition("## ")[0]
    assert all(f"`{column}`" in described for column in COLUMNS if column != "name")


def test_every_column_is_known() -> None:
    assert set(HEADER.strip().split(",")) == set(COLUMNS)


def test_a_new_thing_without_allergens_is_unknown_not_free() -> None:
    item = get(over("moon cheese\n"), "moon cheese")
    assert item.allergens is None and item.animal is None
    assert item.presence("milk") is Presence.UNKNOWN


def test_a_row_for_an_alias_is_a_thing_of_its_own() -> None:
    larder = over("scallion,,,,,,,,\n")
    assert get(larder, "scallions").key == "scallion"
    assert get(larder, "spring onions").key == "spring onion"
    # What it weighs is lent; what is in it is for the book to say.
    assert get(larder, "scallion").weight_each() == get(larder, "spring onion").weight_each()
    assert get(larder, "scallion").allergens is None


def test_none_and_open_lists() -> None:
    larder = over("a thing,,,,,,none,none,\nb thing,,,,,,milk; ?,,\n")
    assert get(larder, "a thing").presence("milk") is Presence.NOT_IN_RECIPE
    assert get(larder, "b thing").presence("milk") is Presence.CONTAINS
    assert get(larder, "b thing").presence("nuts") is Presence.UNKNOWN


def test_columns_in_any_order_and_crlf() -> None:
    rows, findings = read_larder_csv(Source("larder.csv", 'density,name\r\n0.5,"big ""B"" flour"\r\n\r\n'))
    assert not findings
    assert [(row.name, row.densities) for row in rows] == [('big "B" flour', (("", F(1, 2)),))]


@pytest.mark.parametrize(
    ("line", "marked", "words"),
    [
        ("x,,,aisle nine,,,,,", "aisle nine", "no department"),
        ("x,,,,heavy,,,,", "heavy", "no density"),
        ("x,,,,800,,,,", "800", "no density"),
        ("x,,,,,heavy,,,", "heavy", "no weight of one"),
        ("x,,,,,0 g,,,", "0 g", "no weight of one"),
        ("x,,,,,barrel 9 g,,,", "barrel 9 g", "no weight of one"),
        ("x,,,,,,dairy,,", "dairy", "no regulated group"),
        ("x,,,,,,none; milk,,", "none; milk", "says none and names one"),
        ("x,,,,,,,mineral,", "mineral", "not known here"),
        (",,,dry goods,,,,,", "", "has no name"),
        ("x,,,,,,,,,toasted 90%,", "toasted 90%", "no treatment that loses"),
        ("x,,,,,,,,,peeled,", "peeled", "no yield"),
        ("x,,,,,,,,,peeled 0%,", "peeled 0%", "no yield"),
        ("x,,,,,,,,,peeled 120%,", "peeled 120%", "no yield"),
        ("x,,,,,,,,,80%,", "80%", "no treatment that loses"),
        ("x,,,,,,,,,,45 ml", "45 ml", "no part of one piece"),
        ("x,,,,,,,,,,juice 45", "juice 45", "no part of one piece"),
        ("x,,,,,,,,,,juice 0 ml", "juice 0 ml", "no part of one piece"),
        ("x,,,,,,,,a,,,b", "b", "more cells"),
    ],
)
def test_faults_have_their_place(line: str, marked: str, words: str) -> None:
    rows, findings = read_larder_csv(Source("larder.csv", HEADER + "good,,,,,,,,\n" + line + "\n"))
    assert [row.name for row in rows] == ["good"]
    (finding,) = findings
    assert finding.slug == "bad-row" and finding.slug in KINDS
    assert finding.span.text == marked
    assert finding.span.position.line == 3
    assert words in finding.message
    assert finding.hints


def test_faults_of_the_whole_table() -> None:
    assert read_larder_csv(Source("larder.csv", "")) == ((), ())
    rows, findings = read_larder_csv(Source("larder.csv", "thing,weight\nflour,1\n"))
    assert rows == () and findings[0].message == "larder.csv has no column `name`."
    rows, findings = read_larder_csv(Source("larder.csv", "name,wieght\nflour,1\n"))
    assert [row.name for row in rows] == ["flour"]
    assert findings[0].span.text == "wieght"
    rows, findings = read_larder_csv(Source("larder.csv", "name\nmy flour\nMy  flours\n"))
    assert len(rows) == 1 and "twice" in findings[0].message


@given(st.text(alphabet=st.sampled_from('abc ,;"\r\n\0é?:0.5g('), max_size=120) | st.text(max_size=80))
def test_reading_never_raises(text: str) -> None:
    for source in (text, HEADER + text):
        rows, findings = read_larder_csv(Source("larder.csv", source))
        for finding in findings:
            assert 0 <= finding.span.start <= finding.span.end <= len(source)
        builtin().with_rows(rows)

"""Findings as text: the carets are measured with wcwidth, which the product does not use."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from wcwidth import wcswidth

from recipec.base.finding import Finding, Fix, Label
from recipec.base.source import Source
from recipec.base.span import Span
from recipec.report.cells import shown, width, wrap
from recipec.report.text import render


def span_of(source: Source, words: str) -> Span:
    start = source.text.index(words)
    return Span(source, start, start + len(words))


def error(span: Span, **rest: object) -> Finding:
    return Finding("unknown-unit", span, "There is no unit of that name.", **rest)  # type: ignore[arg-type]


def signs(report: str, sign: str = "^") -> tuple[str, str]:
    """The source row above the first row of signs, and that row."""
    rows = report.splitlines()
    at = next(n for n, row in enumerate(rows) if re.fullmatch(rf" *{re.escape(sign)}+( .*)?", row))
    return rows[at - 1], rows[at]


def underlined(report: str) -> str:
    """The glyphs of the source row that stand above the carets, by their printed columns."""
    row, marks = signs(report)
    first, last = marks.index("^"), marks.rindex("^")
    columns = [wcswidth(row[:n]) for n in range(len(row) + 1)]
    return "".join(row[n] for n in range(len(row)) if first <= columns[n] and columns[n + 1] <= last + 1)


def test_header_message_and_place() -> None:
    source = Source("soups/leek.dish", "Leek soup\n\nSweat [200 g leek] in {pan}.\n")
    report = render([error(span_of(source, "200 g"), hints=("Write g, kg or oz.",))])
    assert report == (
        "error unknown-unit  soups/leek.dish:3:8\n"
        "  There is no unit of that name.\n"
        "\n"
        "     3  Sweat [200 g leek] in {pan}.\n"
        "               ^^^^^\n"
        "\n"
        "  Write g, kg or oz.\n"
    )


@pytest.mark.parametrize(
    ("text", "words", "seen"),
    [
        ("Stir [1 x 味噌] in", "味噌", "味噌"),
        ("Add [crème fraîche] now".replace("è", "e\u0300"), "fraîche", "fraîche"),
        ("\t\t[2 g salt]\tand\t[3 q rice]", "3 q", "3 q"),
        ("味\t[3 q rice]", "3 q", "3 q"),
        ("a\u0301b\u0301[q]", "q", "q"),
        ("🍋🍋 [3 q 🍋]", "3 q 🍋", "3 q 🍋"),
        ("nul \x00 esc \x1b[31m [q]", "[q]", "[q]"),
        ("rtl \u202e and \u2066 [q]", "[q]", "[q]"),
        ("한글 \u1112\u1161\u11ab [q]", "[q]", "[q]"),
    ],
)
def test_carets_stand_under_the_exact_characters(text: str, words: str, seen: str) -> None:
    source = Source("a.dish", text)
    report = render([error(span_of(source, words))])
    assert underlined(report) == seen
    _, marks = signs(report)
    assert marks.count("^") == wcswidth(seen)


def test_a_combining_mark_is_underlined_with_its_letter() -> None:
    source = Source("a.dish", "cre\u0300me")
    report = render([error(Span(source, 3, 4))])
    row, marks = signs(report)
    assert marks.index("^") == row.index("e")
    assert marks.count("^") == 1


def test_nothing_in_a_text_reaches_the_terminal_as_a_control() -> None:
    source = Source("a\x1b]0;x\x07.dish", "title\x1b[2J [q]\x9b31m\x7f")
    finding = Finding(
        "unknown-unit",
        span_of(source, "[q]"),
        "No \x1b[31m unit\u202e.",
        (Label(span_of(source, "title"), "here\x1b[0m"),),
        ("Write\x07 g.",),
        (Fix(span_of(source, "q"), "\x1bg", "a\x1b gram"),),
    )
    assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]", render([finding]))


def test_labels_have_their_own_signs_and_words_in_order_of_place() -> None:
    source = Source("a.dish", "T\n\nMelt [600 g butter].\n\nAdd [650 g of the butter].\n")
    finding = Finding(
        "used-up",
        span_of(source, "[650 g of the butter]"),
        "More is taken than there is.",
        (Label(span_of(source, "[600 g butter]"), "600 g comes in here"),),
    )
    assert render([finding]).splitlines()[3:] == [
        "     3  Melt [600 g butter].",
        "             ~~~~~~~~~~~~~~ 600 g comes in here",
        "     5  Add [650 g of the butter].",
        "            ^^^^^^^^^^^^^^^^^^^^^",
    ]


def test_two_marks_on_one_line_show_the_line_once() -> None:
    source = Source("a.dish", "Melt [1 g butter] and [2 g of the butter].")
    finding = Finding(
        "used-up",
        span_of(source, "2 g"),
        "Too much.",
        (Label(span_of(source, "1 g"), "all there is"),),
    )
    rows = render([finding]).splitlines()[3:]
    assert rows == [
        "     1  Melt [1 g butter] and [2 g of the butter].",
        "              ~~~ all there is",
        "                               ^^^",
    ]


def test_a_label_in_another_file_names_it() -> None:
    here = Source("a.dish", "Use [our stock].")
    there = Source("stock.dish", "Stock\nmakes: 1 l\n")
    finding = Finding("unit-mismatch", span_of(here, "our stock"), "No.", (Label(span_of(there, "1 l"), "made here"),))
    rows = render([finding]).splitlines()
    assert rows[-3:] == ["  in stock.dish:", "     2  makes: 1 l", "               ^^^ made here".replace("^", "~")]


def test_a_long_line_is_cut_about_its_marks_and_stays_in_80_columns() -> None:
    prose = "Stir and stir again, as long as it takes. " * 12
    source = Source("a.dish", prose + "Add [3 q rice] now. " + prose)
    report = render([error(span_of(source, "3 q"))])
    assert underlined(report) == "3 q"
    assert all(wcswidth(row) <= 80 for row in report.splitlines())
    row, _ = signs(report)
    assert row.count("…") == 2


def test_far_marks_on_a_long_line_each_show_their_own_piece() -> None:
    prose = "Stir and stir again, as long as it takes. " * 6
    source = Source("a.dish", "Melt [1 g butter]. " + prose + "Add [2 g of the butter].")
    finding = Finding("used-up", span_of(source, "2 g"), "No.", (Label(span_of(source, "1 g"), "all there is"),))
    report = render([finding])
    assert underlined(report) == "2 g"
    assert "1 g butter" in signs(report, "~")[0]
    assert all(wcswidth(row) <= 80 for row in report.splitlines())


def test_words_that_do_not_fit_beside_stand_below() -> None:
    source = Source("a.dish", " " * 60 + "[1 g]")
    words = "this is where the whole of the butter comes in for the first time"
    finding = Finding("used-up", Span(source, 0, 1), "No.", (Label(span_of(source, "[1 g]"), words),))
    report = render([finding])
    assert all(wcswidth(row) <= 80 for row in report.splitlines())
    assert words in " ".join(report.split())


def test_a_mark_over_lines_is_underlined_on_each() -> None:
    source = Source("a.dish", "Add [200 g\r\n  cold butter] now.")
    rows = render([error(span_of(source, "[200 g\r\n  cold butter]"))]).splitlines()[3:]
    assert rows == [
        "     1  Add [200 g",
        "            ^^^^^^",
        "     2    cold butter] now.",
        "          ^^^^^^^^^^^^",
    ]


def test_an_empty_place_has_one_caret_and_an_empty_file_none() -> None:
    source = Source("a.dish", "Add [200 g")
    report = render([error(Span(source, 10, 10))])
    assert signs(report) == ("     1  Add [200 g", " " * 18 + "^")
    assert render([error(Span(Source("e.dish", ""), 0, 0))]).splitlines() == [
        "error unknown-unit  e.dish:1:1",
        "  There is no unit of that name.",
    ]


@pytest.mark.parametrize(
    ("text", "place", "replacement", "line"),
    [
        ("Add [1,5 kg flour] now", "1,5", "1.5", "  write: [1.5 kg flour]"),
        ("Add [200 g flour, then", "flour,", "flour],", "  write: [200 g flour],"),
        ("serv: 4", "serv", "serves", "  write: serves:"),
        ("Add [ ] now", "[ ] ", "", "  leave out: [ ] "),
    ],
)
def test_a_fix_is_shown_with_what_stands_around_it(text: str, place: str, replacement: str, line: str) -> None:
    source = Source("a.dish", text)
    report = render([error(span_of(source, place), fixes=(Fix(span_of(source, place), replacement, ""),))])
    assert report.splitlines()[-1] == line


def test_the_words_of_a_fix_stand_beside_it() -> None:
    source = Source("a.dish", "[1.250 g]")
    fixes = (Fix(Span(source, 1, 6), "1250", "a thousand and more"), Fix(Span(source, 1, 6), "1.25", "one and a bit"))
    assert render([error(Span(source, 1, 6), fixes=fixes)]).splitlines()[-2:] == [
        "  write: [1250 g]   (a thousand and more)",
        "  write: [1.25 g]   (one and a bit)",
    ]


def test_accepted_is_said_with_its_reason() -> None:
    source = Source("a.dish", "x")
    report = render([Finding("never-used", Span(source, 0, 1), "Left.", accepted="for the staff")])
    assert report.startswith("warning never-used (accepted)  a.dish:1:1\n")
    assert report.endswith("  Accepted: for the staff\n")


def test_order_is_by_file_and_place_whatever_order_they_come_in() -> None:
    one, two = Source("a.dish", "abc"), Source("b.dish", "abc")
    findings = [error(Span(two, 0, 1)), error(Span(one, 2, 3)), error(Span(one, 0, 1))]
    assert render(findings) == render(reversed(findings))
    assert re.findall(r"\S+:1:\d", render(findings)) == ["a.dish:1:1", "a.dish:1:3", "b.dish:1:1"]


def test_colour_only_when_asked_and_changes_no_letter() -> None:
    source = Source("a.dish", "Add [3 q rice].")
    finding = error(span_of(source, "3 q"), labels=(Label(span_of(source, "rice"), "of this"),))
    coloured = render([finding], colour=True)
    assert "\x1b[" in coloured
    assert re.sub(r"\x1b\[[0-9;]*m", "", coloured) == render([finding])


def test_wrap_breaks_at_spaces_by_printed_width() -> None:
    assert wrap("味味味 味味味 味味味", 14) == ["味味味 味味味", "味味味"]
    assert wrap("a " + "x" * 30 + " b", 10) == ["a", "x" * 9 + "…", "b"]
    assert wrap("", 10) == []


@given(st.text(st.characters(exclude_categories=()), max_size=200), st.data())
def test_any_text_and_place_can_be_shown(text: str, data: st.DataObject) -> None:
    source = Source("a.dish", text)
    start = data.draw(st.integers(0, len(text)))
    end = data.draw(st.integers(start, len(text)))
    finding = error(Span(source, start, end), labels=(Label(Span(source, 0, start), text),))
    report = render([finding])
    report.encode("utf-8")
    rows = report.splitlines()
    assert all(width(row) <= 80 for row in rows)


def test_a_whole_book_in_one_line_is_shown_in_no_time_and_little_room() -> None:
    text = "Stir. " * 400_000 + "[3 q rice]" + " Stir." * 400_000
    source = Source("a.dish", text)
    place = span_of(source, "3 q")
    fixes = (Fix(place, "x" * 5_000, "long"), Fix(place, "3 g", "y" * 5_000))
    finding = error(place, labels=(Label(Span(source, 0, len(text)), "all of it"),), fixes=fixes)
    report = render([finding, error(Span(source, 0, 1), hints=("z" * 100_000,))])
    assert underlined(report[report.index(":1:2400002") :]) == "3 q"
    assert all(wcswidth(row) <= 80 for row in report.splitlines())
    assert len(report) < 3_000


def test_shown_keeps_ordinary_text() -> None:
    assert shown("crème brûlée 味噌 ½ 🍋") == "crème brûlée 味噌 ½ 🍋"

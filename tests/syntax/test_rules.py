"""The rules of the language to the letter, 1 to 16, one test or more for each."""

from __future__ import annotations

from fractions import Fraction as F
from typing import Any

import pytest

from recipec.base.source import Source
from recipec.base.span import Span
from recipec.syntax import tree
from recipec.syntax.parse import Parsed, parse, parse_amount


def dish(body: str) -> Parsed:
    return parse(Source("a.dish", body), "dish")


def slugs(parsed: Parsed) -> list[str]:
    return [finding.slug for finding in parsed.findings]


def kinds(parsed: Parsed) -> list[str]:
    return [type(block).__name__ for block in parsed.tree.blocks]


def pieces(text: str) -> list[Any]:
    parsed = dish("Title\n\nTake " + text)
    return [
        piece
        for block in parsed.tree.blocks
        if isinstance(block, tree.Step)
        for sentence in block.sentences
        for piece in sentence.pieces
        if not isinstance(piece, tree.Words)
    ]


def food(text: str) -> tree.FoodItem:
    (piece,) = pieces(text)
    assert isinstance(piece, tree.Food)
    return piece.choices[0]


def reading(text: str) -> tree.Reading:
    (piece,) = pieces(text)
    assert isinstance(piece, tree.Reading)
    return piece


def test_rule_1_facts_begin_with_a_known_name_after_at_most_one_blank_line() -> None:
    assert dish("T\nserves: 4\n\nx").tree.facts[0].key == "serves"
    assert dish("T\n\nserves: 4\n\nx").tree.facts[0].key == "serves"
    assert dish("T\n\n\nserves: 4\n\nx").tree.facts == ()
    assert dish("T\n\nServe with: bread\n").tree.facts == ()
    assert slugs(dish("T\nserves: 4\nservs: 5\n")) == ["unknown-fact"]
    assert kinds(dish("T\nserves: 4\n\ncourse: main is prose here.")) == ["Step"]


@pytest.mark.parametrize(
    ("line", "right"),
    [("servings: 4", "serves"), ("serving: 4", "serves"), ("servs: 4", "serves"), ("yield: 6 jars", "makes"),
     ("Serves 4", "Serves: 4"), ("serves 4-6 people", "serves: 4-6 people")],
)  # fmt: skip
def test_rule_1_a_first_line_near_a_fact_begins_the_facts(line: str, right: str) -> None:
    parsed = dish(f"T\n{line}\ncourse: main\n\nx")
    (finding,) = parsed.findings
    assert (finding.slug, finding.fixes[0].replacement) == ("unknown-fact", right)
    assert [fact.key for fact in parsed.tree.facts] == ["course"] and kinds(parsed) == ["Step"]


@pytest.mark.parametrize(
    "line", ["Serve with: bread", "Note: begin early", "Serves four people well.", "Made at home: never"]
)
def test_rule_1_prose_under_the_title_stays_prose(line: str) -> None:
    parsed = dish(f"T\n\n{line}\n")
    assert parsed.findings == () and kinds(parsed) == ["Step"]


def event(facts: str) -> Parsed:
    return parse(Source("a.event", f"T\n{facts}\n"), "event")


def test_some_facts_may_stand_more_than_once() -> None:
    often = event(
        "prepare: 2026-10-16 15:00-18:00\nprepare: 2026-10-17 09:00-11:00\non hand: salt\non hand: oil\n"
        "seat 1: vegan\nseat 2: vegan\naccept: core-too-low, pink\naccept: core-too-low, rare"
    )
    assert often.findings == () and len(often.tree.facts) == 8
    assert dish("T\ntags: a\nkeeps: 3 d chilled\nkeeps: 1 month frozen\ntags: b\n").findings == ()
    assert slugs(event("leave by: 22:00\nleave by: 23:00")) == ["repeated-fact"]
    assert slugs(event("seat 1: vegan\nseat 1: vegan")) == ["repeated-fact"]


@pytest.mark.parametrize(
    ("text", "low", "high", "words"),
    [("four", 4, 4, ""), ("Four people", 4, 4, "people"), ("four to six", 4, 6, ""), ("a dozen", 12, 12, ""),
     ("four-six plates", 4, 6, "plates"), ("4", 4, 4, "")],
)  # fmt: skip
def test_numbers_of_people_in_words(text: str, low: int, high: int, words: str) -> None:
    parsed = dish(f"T\nserves: {text}\n")
    value = parsed.tree.facts[0].value
    assert isinstance(value, tree.Number) and parsed.findings == ()
    assert (value.low, value.high, value.words) == (low, high, words)


def test_guests_in_words() -> None:
    value = event("guests: eight, one expecting").tree.facts[0].value
    assert isinstance(value, tree.Guests) and (value.number, value.expecting) == (8, 1)
    assert slugs(dish("T\nserves: a crowd\n")) == slugs(event("guests: a crowd")) == ["bad-fact"]


def test_two_windows_on_one_line_are_told_how_to_stand() -> None:
    parsed = event("prepare: 2026-10-16 15:00-18:00, 2026-10-17 09:00-11:00")
    (finding,) = parsed.findings
    (fix,) = finding.fixes
    text = parsed.tree.span.source.text
    assert finding.slug == "bad-fact"
    assert (
        parse(Source("a.event", text[: fix.span.start] + fix.replacement + text[fix.span.end :]), "event").findings
        == ()
    )


def test_rule_2_a_heading_is_a_line_that_ends_in_a_colon() -> None:
    assert kinds(dish("T\n\nFor the crumb:\nToast it.")) == ["Heading", "Step"]
    assert kinds(dish("T\n\nToast it.\nFor the crumb:")) == ["Step"]
    assert kinds(dish("T\n\nTake [1 egg]:\n\nx")) == ["Step", "Step"]
    (heading,) = dish("T\n\nFor the  brown\u00a0butter :").tree.blocks
    assert isinstance(heading, tree.Heading) and heading.name.text == "brown butter"
    (heading,) = dish("T\n\nMain, <20:10>:").tree.blocks
    assert isinstance(heading, tree.Heading) and heading.name.text == "Main"
    assert heading.reading is not None and isinstance(heading.reading.value, tree.Clock)
    assert heading.reading.value.start == 20 * 60 + 10


def test_rule_2_a_remark_is_no_part_of_a_headings_name() -> None:
    (heading,) = dish("T\n\nFor the sauce (optional):").tree.blocks
    assert isinstance(heading, tree.Heading)
    assert (heading.name.text, heading.name.span.text, heading.shown) == ("sauce", "sauce", "For the sauce (optional)")
    (heading,) = dish("T\n\n(optional):").tree.blocks
    assert isinstance(heading, tree.Heading) and heading.name.text == "(optional)"


def test_rule_3_offsets_are_those_of_the_text_as_it_is() -> None:
    text = "T\r\n\r\nTake [1\regg].\r\n"
    (step,) = dish(text).tree.blocks
    assert isinstance(step, tree.Step)
    item = step.sentences[0].pieces[1]
    assert item.span.text == "[1\regg]" and text[item.span.start : item.span.end] == "[1\regg]"


def test_rule_4_prose_above_the_first_course_holds_no_mark() -> None:
    parsed = parse(Source("a.event", "T\n\nBy [the water].\n\nMain:\n\n[our soup]\n"), "event")
    assert slugs(parsed) == ["stray-bracket"]
    assert kinds(parsed) == ["Step", "Heading", "Step"]


@pytest.mark.parametrize("text", ["x < 5 min", "<5 apples", "<b>", "a < b > c", "< very hot>", "<never>"])
def test_rule_5_a_bracket_that_opens_no_reading_is_text(text: str) -> None:
    parsed = dish(f"T\n\nTake {text} and go on.")
    assert parsed.findings == () and pieces(text) == []


@pytest.mark.parametrize(
    ("text", "after"),
    [("Heat to <82. Rest it.", "82"), ("Heat to <82 °C. Add [1 egg].", "82 °C"), ("Wait <5 min and <6 min>.", "5 min"),
     ("Cook <20 min, until soft. Rest.", "until soft"), ("Cook to <82 °C -> sauce", "82 °C"), ("Cook <until golden.", "golden"),
     ("Main, <20:10:", "20:10"), ("Rest <1½ h", "1½ h")],
)  # fmt: skip
def test_rule_5_a_reading_that_is_never_closed(text: str, after: str) -> None:
    text = "T\n\n" + text
    (finding,) = dish(text).findings
    assert (finding.slug, finding.span.text) == ("unclosed-mark", "<")
    (fix,) = finding.fixes
    assert fix.replacement == ">" and text[: fix.span.start].endswith(after)


def test_a_bracket_in_what_looks_like_a_heading_is_told_of_once() -> None:
    assert slugs(dish("T\n\nTake [1 egg:\n")) == ["unclosed-mark"]
    assert slugs(dish("T\n\nMain ]:\n")) == ["stray-bracket"]


def test_rule_5_only_the_last_arrow_outside_marks_makes_results() -> None:
    def results(text: str) -> list[str]:
        (step,) = dish("T\n\n" + text).tree.blocks
        assert isinstance(step, tree.Step)
        return [result.name.text for result in step.results]

    assert results("Mix. -> the crumb.") == ["crumb"]
    assert results("Mix -> and -> crumb, 20 g; dust, discarded") == ["crumb", "dust"]
    assert results("Mix -> with [1 egg]") == []
    assert results("Mix. -> sauce, holds 40 min warm in {bain-marie}") == ["sauce"]
    assert results("Mix [a -> b]") == []


def test_rule_6_where_sentences_end() -> None:
    def sentences(text: str) -> list[str]:
        (step,) = dish("T\n\n" + text).tree.blocks
        assert isinstance(step, tree.Step)
        return [sentence.span.text.strip() for sentence in step.sentences]

    assert sentences("Boil it. Then rest! [1 egg] goes in? {pan} out.") == [
        "Boil it.", "Then rest!", "[1 egg] goes in?", "{pan} out.",
    ]  # fmt: skip
    assert sentences("Take approx. Ten, e.g. Apples, no. Nine. Stop.") == [
        "Take approx. Ten, e.g. Apples, no. Nine.",
        "Stop.",
    ]
    assert sentences("Weigh 2.5 kg. then go on [1 egg, e.g. Large]. Stop.") == [
        "Weigh 2.5 kg. then go on [1 egg, e.g. Large].",
        "Stop.",
    ]


def test_rule_7_words_bind_by_position() -> None:
    assert food("[cream of tartar]").name.text == "cream of tartar"
    assert food("[200 ml half and half]").name.text == "half and half"
    assert food("[heart of palm]").part is None
    assert food("[flesh of 2 squashes]").part is not None
    assert food("[30 g crumb per plate, crisp]").per_plate
    assert food("[30 g per plate crumb]").name.text == "per plate crumb"
    assert food("[30 g crumb per plate or 20 g oats]").per_plate
    assert slugs(dish("T\n\nTake [30 g per plate].")) == ["empty-mark"]
    assert slugs(dish("T\n\nTake [30 g per plate, crisp].")) == ["empty-mark"]
    assert food("[3 cloves per plate]").per_plate and food("[3 cloves per plate]").name.text == "cloves"
    assert food("[\\or cheese]").name.text == "or cheese"
    (piece,) = pieces("[butter, cubed or oil]")
    assert [choice.name.text for choice in piece.choices] == ["butter", "oil"]
    assert food("[surplus cake]").name.text == "surplus cake"
    assert food("[our bread]").article == "our" and food("[sour cream]").article == ""


@pytest.mark.parametrize(
    ("text", "fraction"),
    [("1/3", F(1, 3)), ("3/4", F(3, 4)), ("½", F(1, 2)), ("50 %", F(1, 2)), ("50%", F(1, 2)), ("a third", F(1, 3)),
     ("half", F(1, 2)), ("1/3 of", F(1, 3)), ("50 % of", F(1, 2))],
)  # fmt: skip
def test_rule_7_shares_with_and_without_of(text: str, fraction: F) -> None:
    item = food(f"[{text} the crumb, crisp]")
    assert item.share is not None and (item.share.kind, item.share.fraction) == ("fraction", fraction)
    assert (item.article, item.amount, item.name.text) == ("the", None, "crumb")


@pytest.mark.parametrize("text", ["1/4 of", "half of", "½ of", "two thirds of"])
def test_rule_7_a_share_without_its_article_says_one_thing(text: str) -> None:
    (finding,) = dish(f"T\n\nTake [{text} crumb].").findings
    assert (finding.slug, finding.span.text) == ("unreadable-mark", text)
    assert finding.fixes[0].replacement == f"{text} the crumb"
    assert food("[half of a lemon]").name.text == "lemon"


@pytest.mark.parametrize(
    ("text", "place"),
    [("-> ;", ";"), ("-> crumb;", "crumb;"), ("-> ;;;", ";;;"), ("->", "->"), ("-> crumb,", "crumb,")],
)
def test_a_missing_result_is_told_of_once(text: str, place: str) -> None:
    (finding,) = dish(f"T\n\nToast it. {text}\n").findings
    assert (finding.slug, finding.span.text) == ("bad-result", place)


def test_rule_7_an_amount_of_the_needs_its_of() -> None:
    (finding,) = dish("T\n\nTake [200 g the crumb].").findings
    assert (finding.slug, finding.fixes[0].replacement) == ("unreadable-mark", "200 g of the crumb")


@pytest.mark.parametrize("text", ["[salt,pepper]", "[200 g butter,cubed]", "{pan,28 cm}"])
def test_rule_8_a_comma_with_no_space_parts_nothing(text: str) -> None:
    (finding,) = dish(f"T\n\nTake {text}.").findings
    assert (finding.slug, finding.span.text) == ("unreadable-mark", ",")
    assert text.replace(",", ", ") in finding.hints[0] and finding.fixes[0].replacement == ", "


@pytest.mark.parametrize("bullet", ["", "- ", "• ", "* ", "– ", "-"])
def test_rule_22_food_marks_alone_one_a_line_are_laid_out(bullet: str) -> None:
    (block,) = dish(f"T\n\n{bullet}[200 g flour]\n{bullet}[2 eggs, cold]\n{bullet}[salt]\n").tree.blocks
    assert isinstance(block, tree.LayOut) and [item.choices[0].name.text for item in block.foods] == [
        "flour",
        "eggs",
        "salt",
    ]


@pytest.mark.parametrize(
    "text", ["- Rest it.\n- Eat it.", "- [1 egg] goes in.", "- [1 egg] [2 figs]", "-", "- [1 egg]\n[2 figs]"]
)
def test_rule_22_other_lists_are_prose(text: str) -> None:
    assert kinds(dish(f"T\n\n{text}\n")) == ["Step"]


@pytest.mark.parametrize("text", ["half our", "a third of our", "the rest of our", "50 % of our"])
def test_rule_7_another_dish_is_taken_by_amount(text: str) -> None:
    (finding,) = dish(f"T\n\nTake [{text} vegetable stock].").findings
    assert (finding.slug, finding.span.text) == ("unreadable-mark", text)
    assert finding.hints == ("Write how much of it: `[250 ml our vegetable stock]`.",)


def test_rule_8_reserved_words_and_treatments() -> None:
    details = food(
        "[4 legs, to taste, optional, fixed, to serve, discarded, 250 g each, 2% of the oil, cut small]"
    ).details
    assert [type(detail).__name__ for detail in details] == ["Flag"] * 5 + ["Each", "Percent", "Treatment"]
    (rate,) = food("[salt, 10 g per litre of the water]").details
    assert isinstance(rate, tree.Rate) and rate.of.text == "water" and rate.per.unit == "l"
    # Only an event knows these; in a dish they are treatments like any other.
    assert [type(detail).__name__ for detail in food("[bread, without crust, for seat 3]").details] == ["Treatment"] * 2
    assert reading("<25 min, until golden, not brown>").cue == "until golden, not brown"


def test_rule_12_a_unit_stands_right_after_its_number() -> None:
    def amount(text: str) -> tuple[str | None, str]:
        item = food(text)
        assert item.amount is not None
        return item.amount.terms[0].unit, item.name.text

    assert amount("[200g butter]") == ("g", "butter")
    assert amount("[3 cloves]") == (None, "cloves")
    assert amount("[3 cloves garlic]") == ("clove", "garlic")
    assert amount("[2 bay leaves]") == (None, "bay leaves")
    assert amount("[3 gherkins]") == (None, "gherkins")
    assert slugs(dish("T\n\nTake [200 g].")) == ["empty-mark"]
    for text, right in (
        ("[1 T butter]", "tbsp"), ("[1 c flour]", "cup"), ("[2 c flour]", "cups"), ("[200 gr flour]", "g"),
        ("[200 gramms flour]", "g"), ("[2 tabelspoons oil]", "tbsp"), ("[3 handfulls rocket]", "handfuls"),
    ):  # fmt: skip
        (finding,) = dish("T\n\nTake " + text).findings
        assert finding.slug == "unknown-unit" and finding.fixes[0].replacement == right
    assert dish("T\n\nTake [3 figs], [2 pears halved], [10 mint leaves], [5 spring onions].").findings == ()


def test_rule_13_packs_and_sizes() -> None:
    for text in ("[2 x 400 g tins beans]", "[2 tins (400 g) beans]", "[2×400g tins of beans]"):
        amount = food(text).amount
        assert amount is not None and amount.each is not None
        assert (amount.terms[0].high, amount.terms[0].unit, amount.each.high, amount.each.unit) == (
            F(2),
            "tin",
            F(400),
            "g",
        )
    steak = food("[a 200 g steak]").amount
    assert steak is not None and steak.each is not None and (steak.terms[0].high, steak.terms[0].unit) == (F(1), None)
    for text, size in (("[1 small bunch dill]", "small"), ("[1 heaped tbsp flour]", "heaped")):
        amount = food(text).amount
        assert amount is not None and amount.about and amount.terms[0].size == size
    eggs = food("[2 large eggs]").amount
    assert eggs is not None and not eggs.about


def test_rule_13_dozens_are_numbers() -> None:
    for text, number in (
        ("2 dozen eggs", 24),
        ("1 dozen eggs", 12),
        ("two dozen large eggs", 24),
        ("1/2 dozen eggs", 6),
    ):
        item = food(f"[{text}]")
        assert item.amount is not None and item.amount.terms[0].high == number and item.name.text == "eggs"


@pytest.mark.parametrize(
    ("text", "number"), [("1 14-ounce can", 1), ("a 14-ounce can", 1), ("2 14-oz cans", 2), ("1 (14 oz) can", 1)]
)
def test_rule_13_a_pack_with_its_weight_before_it(text: str, number: int) -> None:
    item = food(f"[{text} tomatoes]")
    assert item.amount is not None and item.amount.each is not None and item.name.text == "tomatoes"
    assert (item.amount.terms[0].high, item.amount.terms[0].unit) == (number, "can")
    assert (item.amount.each.high, item.amount.each.unit) == (14, "oz")


def test_rule_8_plus_more_is_how_a_food_is_treated() -> None:
    for more in ("plus more for drizzling", "plus extra", "+ a little more"):
        item = food(f"[2 tbsp olive oil {more}, warm]")
        assert item.name.text == "olive oil" and item.plus is None
        assert [detail.span.text for detail in item.details] == [more, "warm"]


@pytest.mark.parametrize(
    ("text", "number", "size"),
    [("{9 x 13 inch tin}", None, "9 x 13 inch"), ("{20 x 30 cm tin}", None, "20 x 30 cm"), ("{3 x 500 ml jars}", 3, "500 ml"),
     ("{2 x 20 cm tins}", 2, "20 cm")],
)  # fmt: skip
def test_rule_13_gear_of_a_size(text: str, number: int | None, size: str) -> None:
    (gear,) = pieces(text)
    assert isinstance(gear, tree.Gear)
    assert [(type(detail), detail.span.text) for detail in gear.details] == [(tree.Treatment, size)]
    assert (None if gear.amount is None else gear.amount.terms[0].high) == number
    assert gear.amount is None or gear.amount.each is None


def test_a_size_of_two_sides_keeps_both() -> None:
    for text in ("<20 x 30 cm>", "<30 x 20 cm>"):
        extent = reading(text).value
        assert isinstance(extent, tree.Extent)
        assert (extent.term.high, extent.term.unit, extent.shape) == (30, "cm", text[1:-1])


@pytest.mark.parametrize(
    ("text", "readings"),
    [
        ("1,5", ["1.5"]), ("1.500", ["1.5", "1500"]), ("1,000", ["1", "1000"]), ("1.125", ["1 1/8", "1125"]),
        ("3-2", ["2-3"]), ("1-1/2", ["1/2-1", "1 1/2"]), ("1/0", []), ("9999999999", []),
    ],
)  # fmt: skip
def test_rule_14_numbers_that_can_be_read_in_two_ways(text: str, readings: list[str]) -> None:
    parsed = dish(f"T\n\nTake [{text} kg flour].")
    (finding,) = parsed.findings
    assert (finding.slug, finding.span.text) == ("bad-number", text)
    assert [fix.replacement for fix in finding.fixes] == readings
    for right in readings:
        # What is offered is never refused in its turn.
        assert dish(f"T\n\nTake [{right} kg flour].").findings == ()


@pytest.mark.parametrize("text", ["0 g pepper", "0 eggs", "↉ cup sugar", "0-0 eggs", "0.0 g salt"])
def test_rule_14_nothing_of_a_food_is_no_amount(text: str) -> None:
    (finding,) = dish(f"T\n\nTake [{text}].").findings
    assert finding.slug == "bad-number" and finding.span.text == text.split()[0]
    assert dish("T\nserves: 4\n\nChill to <0 °C> with [0-1 egg].").findings == ()


@pytest.mark.parametrize(
    ("text", "meant", "readings"),
    [("1 000", "1 000", ["1000"]), ("1\u202f000", "1\u202f000", ["1000"]), ("1\u00a0000", "1\u00a0000", ["1000"]),
     ("1'000", "1'000", ["1000"]), ("12’500", "12’500", ["12500"]), ("5.", "5.", ["5"]), ("1e5", "1e5", ["100000"]),
     ("1 200", "1 200", ["1200", "1 x 200"]), ("1,000,000", "1,000,000", ["1000000"]), ("1.000,50", "1.000,50", ["1000.50"]),
     ("1.2.3", "1.2.3", [])],
)  # fmt: skip
def test_rule_14_numbers_in_other_dress(text: str, meant: str, readings: list[str]) -> None:
    (finding,) = dish(f"T\n\nTake [{text} g flour].").findings
    assert (finding.slug, finding.span.text) == ("bad-number", meant)
    assert [fix.replacement for fix in finding.fixes] == readings and finding.hints
    for right in readings:
        assert dish(f"T\n\nTake [{right} g flour].").findings == ()


def test_rule_14_thousands_are_no_packs_and_names_no_numbers() -> None:
    assert slugs(dish("T\n\nTake [2 400 g tins beans].")) == ["unreadable-mark"]
    assert food("[1 000 flour]").name.text == "000 flour"
    assert food("[3 e-numbers]").name.text == "e-numbers"


def test_rule_14_numbers_are_exact() -> None:
    def number(text: str) -> F:
        amount = food(f"[{text} cups milk]").amount
        assert amount is not None
        return amount.terms[0].high

    assert number("1 1/2") == number("1½") == number("1 ½") == F(3, 2)
    assert number("⅓") == number("1/3") == F(1, 3)
    assert number("0.1") == F(1, 10) and number(".25") == F(1, 4) and number("0.125") == F(1, 8)
    vulgar = "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"
    exact = "1/4 1/2 3/4 1/7 1/9 1/10 1/3 2/3 1/5 2/5 3/5 4/5 1/6 5/6 1/8 3/8 5/8 7/8"
    assert [number(letter) for letter in vulgar] == [F(text) for text in exact.split()]


def test_rule_15_names_that_begin_with_a_digit() -> None:
    for name in ("70% chocolate", "5-spice", "00 flour"):
        item = food(f"[{name}]")
        assert (item.amount, item.name.text) == (None, name)
        assert food(f"[200 g {name}]").name.text == name


def test_rule_16_loose_forms_are_understood() -> None:
    half = food("[half a lemon]").amount
    assert half is not None and half.terms[0].high == F(1, 2)
    some = food("[some parsley]").amount
    assert some is not None and some.terms[0].unit == "handful"
    assert [detail.text for detail in food("[200 g butter (cold)]").details if isinstance(detail, tree.Treatment)] == [
        "cold"
    ]
    zest = food("[the zest of 1 lemon]")
    assert zest.part is not None and zest.part.key == "zest" and zest.article == ""
    plus = food("[1 egg plus 1 yolk]").plus
    assert plus is not None and plus.name.text == "yolk"
    degrees = reading("<200C>").value
    assert isinstance(degrees, tree.Temperature) and degrees.scale == "C"

    def duration(text: str) -> tree.Duration:
        value = reading(text).value
        assert isinstance(value, tree.Duration)
        return value

    assert duration("<1h30>").high == 5400
    assert duration("<about 6 min>").about
    assert (duration("<2 x 5 min>").times, duration("<2 x 5 min>").high) == (2, F(300))
    assert duration("<5 min per side>").times == 2
    assert reading("<6 min or until golden>").cue == "until golden"
    assert duration("<until golden>").assumed
    extent = reading("<20 cm round>").value
    assert isinstance(extent, tree.Extent) and extent.shape == "round"
    (finding,) = dish("T\n\nRest <overnight>.").findings
    assert (finding.slug, finding.fixes[0].replacement) == ("bad-reading", "12 h")


def test_the_missing_bracket_is_offered_where_it_belongs() -> None:
    text = "T\n\nMelt [200 g butter and stir in [3 eggs] well."
    (finding,) = dish(text).findings
    (fix,) = finding.fixes
    mended = text[: fix.span.start] + fix.replacement + text[fix.span.end :]
    assert mended == "T\n\nMelt [200 g butter] and stir in [3 eggs] well."
    assert dish(mended).findings == ()


def test_a_bracket_with_nothing_behind_it_is_to_be_taken_out() -> None:
    for text in ("Melt the butter [", "Melt [ . Then rest.", "Melt {"):
        (finding,) = dish("T\n\n" + text).findings
        assert finding.slug == "unclosed-mark" and finding.hints[0].startswith("Take it out")
        assert finding.fixes[0].replacement == "" and finding.fixes[0].span == finding.span


def test_units_near_those_of_a_reading_are_offered_as_they_are_written() -> None:
    for text, right in (("<5 mn>", "min"), ("<20 minuten>", "min"), ("<3 hourz>", "h"), ("<200 celsuis>", "°C")):
        (finding,) = dish("T\n\nWait " + text).findings
        assert (finding.slug, [fix.replacement for fix in finding.fixes]) == ("bad-reading", [right])


def test_a_file_without_a_title_says_so() -> None:
    assert slugs(dish("")) == slugs(dish(" \n\t\n")) == ["missing-fact"]
    parsed = dish("serves: 4\n\nBoil [1 egg].")
    assert slugs(parsed) == ["missing-fact"] and parsed.tree.facts[0].key == "serves"


def test_an_amount_that_stands_alone() -> None:
    def alone(text: str) -> tree.Amount | None:
        source = Source("prices.csv", f"eggs,{text},3")
        return parse_amount(Span(source, 5, 5 + len(text)))

    pack = alone("1 bottle (750 ml)")
    assert pack is not None and pack.each is not None and pack.each.high == 750
    assert alone("12") is not None and alone("500 g") is not None
    assert alone("1,5 kg") is None and alone("500 g flour") is None and alone("") is None

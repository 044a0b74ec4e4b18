"""The sheet: scaled, worded, and nothing a cook should not read."""

from __future__ import annotations

from fractions import Fraction

import pytest

from recipec.base.finding import Finding
from recipec.base.span import Span
from recipec.emit.card_text import card_text
from recipec.measure.quantity import quantity
from recipec.measure.show import Style
from recipec.measure.units import unit
from recipec.model.dish import Basis, Dish, Flag, GearUse, Piece, ReadingAt, Role, Sentence, Step, Words
from recipec.model.reading import (
    Attention,
    Duration,
    Hold,
    Left,
    Pace,
    Reading,
    State,
    Temperature,
    TemperatureOf,
    Touch,
    Value,
)
from recipec.plan.fill import dish_sheet, version_of
from recipec.plan.sheet import DishSheet, FoodPiece, ReadingKind, ReadingPiece, StepBlock
from tests.changed import replace
from tests.plan.make import Mark, amount, book, buy, dish, our, stocked, used_up


def sheet(one: Dish, plates: int | None = None, *others: Dish, findings: tuple[Finding, ...] = ()) -> DishSheet:
    return dish_sheet(
        book([one, *others]), stocked(), one.key, None if plates is None else Fraction(plates), findings=findings
    )


def made_of(*marks: Mark, serves: int = 4, **more: object) -> Dish:
    return dish("plate", *marks, serves=serves, larder=stocked(), **more)  # type: ignore[arg-type]


def foods(found: DishSheet) -> list[FoodPiece]:
    return [
        piece
        for strand in found.strands
        for block in strand.blocks
        if isinstance(block, StepBlock)
        for piece in block.pieces
        if isinstance(piece, FoodPiece)
    ]


def plain(text: str) -> str:
    return text.replace("\u00a0", " ")


def lines(found: DishSheet) -> list[str]:
    return [plain(line.text) for line in found.ingredients]


# ---------------------------------------------------------------- ingredients


def test_an_amount_is_shown_to_the_letter_as_written_and_rounded_when_scaled() -> None:
    one = made_of(buy("237 ml milk", "milk", amount(237, "ml")))
    assert lines(sheet(one)) == ["237 ml milk"]
    assert not sheet(one).rounded
    assert lines(sheet(one, 8)) == ["475 ml milk"]
    assert sheet(one, 8).rounded
    assert sheet(one, 8).ingredients[0].amount.exact == (quantity(474, unit("ml")),)  # type: ignore[union-attr]


def test_names_follow_their_number() -> None:
    one = made_of(buy("1 carrot", "carrot", amount(1)), buy("4 strangeberries", "strangeberries", amount(4)))
    assert lines(sheet(one, 8)) == ["2 carrots", "8 strangeberries"]
    assert lines(sheet(one, 1)) == ["¼ carrot", "1 strangeberry"]


def test_a_part_of_an_egg_is_weighed() -> None:
    assert lines(sheet(made_of(buy("4 eggs", "eggs", amount(4))), 3)) == ["3 eggs"]
    assert lines(sheet(made_of(buy("2 eggs", "eggs", amount(2))), 3)) == ["1 egg plus 25 g beaten egg"]


def test_the_same_thing_in_the_same_state_is_one_line() -> None:
    found = sheet(
        made_of(
            buy("100 g butter", "butter", amount(100, "g")),
            buy("50 g butter", "butter", amount(50, "g")),
            buy("20 g butter, melted", "butter", amount(20, "g"), after=("melted",)),
            buy("salt, to taste", "salt", flags=(Flag.TO_TASTE,)),
        )
    )
    assert lines(found) == ["150 g butter", "20 g butter, melted", "salt, to taste"]
    assert [len(group.lines) for group in found.groups] == [4]


def test_parts_of_one_thing_share_a_line() -> None:
    zest = buy("zest of 1 lemon", "lemon", amount(1), part="zest")
    juice = buy("juice of 1 lemon", "lemon", amount(1), part="juice")
    assert lines(sheet(made_of(zest, juice))) == ["1 lemon, zest and juice"]
    two = buy("zest of 2 lemons", "lemons", amount(2), part="zest")
    assert lines(sheet(made_of(two, juice))) == ["2 lemons, zest of 2, juice of 1"]
    assert [plain(piece.text) for piece in foods(sheet(made_of(two, juice)))] == [
        "zest of 2 lemons",
        "juice of 1 lemon",
    ]


def test_what_is_weighed_of_an_egg_is_said() -> None:
    large = buy("2 large eggs", "eggs", replace(amount(2), size="large"))
    assert lines(sheet(made_of(large), 7)) == ["3 large eggs plus 25 g beaten egg"]
    assert lines(sheet(made_of(large), 1)) == ["25 g beaten egg"]
    whites = buy("whites of 2 eggs", "eggs", amount(2), part="white")
    yolks = buy("1 egg yolk", "egg yolk", amount(1), part="yolk", item="egg")
    assert lines(sheet(made_of(whites), 5)) == ["2 egg whites plus 16.5 g egg white"]
    assert lines(sheet(made_of(yolks), 2)) == ["8.5 g egg yolk"]
    assert lines(sheet(made_of(yolks), 6)) == ["1 egg yolk plus 8.5 g egg yolk"]
    both = made_of(whites, buy("yolk of 1 egg", "egg", amount(1), part="yolk"))
    assert lines(sheet(both)) == ["2 eggs, whites of 2, yolk of 1"]
    assert lines(sheet(both, 8)) == ["4 eggs, whites of 4, yolks of 2"]
    assert lines(sheet(both, 6)) == ["3 eggs, whites", "1 egg yolk plus 8.5 g egg yolk"]
    assert [plain(food.text) for food in foods(sheet(both, 6))] == [
        "whites of 3 eggs",
        "1 egg yolk plus 8.5 g egg yolk",
    ]


def test_a_part_does_not_weigh_what_the_whole_weighs() -> None:
    peel = buy("peel of 1 lemon", "lemon", amount(1), part="peel")
    assert lines(sheet(made_of(peel), 5)) == ["1¼ lemons, peel"]
    near = [plain(food.text) for food in foods(sheet(made_of(peel, serves=100), 86))]
    assert near == ["peel of about ¾ lemon"]


def test_leaves_and_sprigs_and_small_spices_stay_whole() -> None:
    made = made_of(
        buy("1 bay leaf", "bay leaf", amount(1)),
        buy("2 star anise", "star anise", amount(2)),
        buy("1 sprig thyme", "thyme", amount(1, "sprig")),
        buy("3 anchovy fillets", "anchovy fillets", amount(3)),
        buy("2 garlic cloves", "garlic cloves", amount(2, "clove")),
        buy("a handful of mint", "mint", amount(1, "handful")),
    )
    said = ["1 bay leaf", "1 star anise", "1 sprig thyme", "2 anchovy fillets", "1 clove garlic"]
    assert lines(sheet(made, 2))[:5] == said
    assert "a handful  of mint" in card_text(sheet(made))


def test_a_metric_book_weighs_cups_of_what_does_not_pour() -> None:
    made = made_of(
        buy("2 cups flour", "flour", amount(2, "us_cup")),
        buy("1/2 cup milk", "milk", amount("1/2", "us_cup")),
        buy("2 tbsp sugar", "sugar", amount(2, "us_tbsp")),
        buy("5 tbsp sugar", "caster sugar", amount(5, "us_tbsp")),
        buy("1/4 cup lime juice", "lime juice", amount("1/4", "us_cup"), part="juice", item="lime"),
        buy("1 cup wonder dust", "wonder dust", amount(1, "us_cup")),
    )
    found = dish_sheet(book([made]), stocked(), "plate", style=Style("metric"))
    assert lines(found) == [
        "250 g flour",  # 125 g a cup: SR28 20081
        "120 ml milk",
        "2 tbsp sugar",
        "63 g caster sugar",  # 200 g a cup: SR28 19335
        "59 ml lime juice",
        "235 ml wonder dust",
    ]


def vessel(name: str, pieces: int) -> GearUse:
    return replace(used_up(name, amount(1)), amount=None, pieces=pieces)


def test_a_glass_for_every_plate_and_the_same_pans() -> None:
    gear = (vessel("ramekins", 4), vessel("baking sheets", 2), vessel("frying pans", 4), vessel("jars", 3))
    made = made_of(buy("2 carrots", "carrots", amount(2)), gear=gear)
    assert list(sheet(made).gear) == ["4 ramekins", "2 baking sheets", "4 frying pans", "3 jars"]
    assert [plain(text) for text in sheet(made, 10).gear] == [
        "10 ramekins, for 10 plates",
        "2 baking sheets",
        "4 frying pans",
        "3 jars, as many as for the dish as written",
    ]
    assert plain(sheet(made, 1).gear[0]) == "1 ramekin, for 1 plate"


def test_a_written_fraction_is_set() -> None:
    rice = buy("200 g rice", "rice", amount(200, "g"))
    written = "1/4 of the rice"
    quarter = buy(written, "rice", amount(50, "g"), role=Role.TAKE, thing="rice", share="1/4", fraction=Fraction(1, 4))
    assert [plain(food.text) for food in foods(sheet(made_of(rice, quarter)))][1] == "¼ of the rice (50 g)"


def test_one_white_and_three_whites_are_four_eggs() -> None:
    one = buy("white of 1 egg", "egg", amount(1), part="white")
    three = buy("whites of 3 eggs", "eggs", amount(3), part="white")
    two = buy("yolks of 2 eggs", "eggs", amount(2), part="yolk")
    assert lines(sheet(made_of(one, three))) == ["4 eggs, whites"]
    assert lines(sheet(made_of(one, three, two))) == ["4 eggs, whites of 4, yolks of 2"]


def test_treatments_before_and_after_keep_their_places() -> None:
    mark = buy("500 g peeled squash, cubed", "peeled squash", amount(500, "g"), before=("peeled",), after=("cubed",))
    line = sheet(made_of(mark)).ingredients[0]
    assert (line.before, line.name, line.after) == (("peeled",), "squash", ("cubed",))
    assert plain(line.text) == "500 g peeled squash, cubed"


def test_alternatives_and_their_allergens() -> None:
    mark = buy("50 ml milk or 50 ml oil", "milk", amount(50, "ml"), choices=(buy("", "oil", amount(50, "ml")),))
    line = sheet(made_of(mark), 8).ingredients[0]
    assert [plain(other.text) for other in line.alternatives] == ["100 ml oil"]
    assert (line.allergens.contains, line.alternatives[0].allergens.contains) == (("milk",), ())


def test_by_the_plate() -> None:
    found = sheet(made_of(buy("30 g crumb per plate", "crumb", amount(30, "g"), flags=(Flag.PER_PLATE,))), 6)
    assert lines(found) == ["180 g crumb, 30 g per plate"]
    assert plain(foods(found)[0].text) == "30 g crumb per plate (180 g)"


def test_a_pinch_of_salt_reads_so() -> None:
    found = sheet(made_of(buy("a pinch of salt", "salt", amount(1, "pinch"))), 40)
    assert lines(found) == ["a pinch of salt"]
    assert plain(foods(found)[0].text) == "a pinch of salt"


def test_a_share_of_another_thing_says_so() -> None:
    duck = buy("1 kg duck legs", "duck legs", amount(1, "kg"), thing="duck leg")
    salt = buy(
        "salt, 2.2% of the duck legs", "salt", amount(22, "g"), basis=Basis("duck leg", Fraction(11, 5), None, None)
    )
    assert lines(sheet(made_of(duck, salt), 8)) == ["2 kg duck legs", "44 g salt, 2.2% of the duck legs"]


def test_our_dish_is_a_link() -> None:
    stock = dish("stock", serves=None, makes=amount(1, "l"))
    found = sheet(made_of(our("250 ml our stock", "stock", "stock", amount(250, "ml"))), 8, stock)
    assert (found.ingredients[0].our, found.ingredients[0].dish) == (True, "stock")
    assert plain(foods(found)[0].text) == "500 ml our stock"


# ---------------------------------------------------------------- shares


@pytest.mark.parametrize(
    ("written", "share", "much", "fraction", "shown"),
    [
        ("half the brown butter", "half the", amount(60, "g"), "1/2", "half the brown butter (about 120 g)"),
        ("1/3 of the brown butter", "1/3 of the", amount(40, "g"), "1/3", "⅓ of the brown butter (about 80 g)"),
        ("2 tbsp of the brown butter", "", amount(2, "metric_tbsp"), None, "4 tbsp brown butter"),
        ("the brown butter", "", amount(120, "g"), "1", "the brown butter"),
        ("The rest of the brown butter", "the rest of", None, None, "The rest of the brown butter"),
    ],
)
def test_a_share_says_what_it_comes_to(
    written: str, share: str, much: object, fraction: str | None, shown: str
) -> None:
    mark = Mark(
        written, "brown butter", much, Role.TAKE, thing="brown butter", item=None, share=share,  # type: ignore[arg-type]
        fraction=None if fraction is None else Fraction(fraction),
    )  # fmt: skip
    if written.startswith("2 tbsp"):
        mark, shown = replace(mark, share="2 tbsp of the"), "4 tbsp of the brown butter"
    one = made_of(mark, made=(("brown butter", amount(120, "g")),))
    assert plain(foods(sheet(one, 8))[0].text) == shown


# ---------------------------------------------------------------- readings


def reading(
    value: Value, attention: Attention = Attention.UNSAID, touches: tuple[Touch, ...] = (), cue: str | None = None
) -> ReadingPiece:
    one = made_of()
    span = Span(one.span.source, 0, 1)
    piece = ReadingAt(Reading(span, value, attention, touches, cue))
    return pieces(one, piece)[0]


def pieces(one: Dish, *parts: Piece) -> list[ReadingPiece]:
    step = one.strands[0].blocks[0]
    assert isinstance(step, Step)
    step = replace(step, sentences=(Sentence((Words("For "), *parts)),))
    found = sheet(replace(one, strands=(replace(one.strands[0], blocks=(step,)),)), 8)
    block = found.strands[0].blocks[0]
    assert isinstance(block, StepBlock)
    return [piece for piece in block.pieces if isinstance(piece, ReadingPiece)]


def minutes(low: int, high: int | None = None, **more: object) -> Duration:
    plain_one = Duration(Fraction(low * 60), Fraction((high or low) * 60), 1, False, None, False, False, False)
    return replace(plain_one, **more)


def test_a_range_says_when_to_start_checking() -> None:
    found = reading(minutes(7, 10), cue="until golden")
    assert (plain(found.text), plain(found.check_at), found.cue) == ("7–10 min", "check from 7 min", "until golden")
    assert (found.low_s, found.high_s) == (420, 600)


def test_plain_times_never_scale_and_paced_ones_do() -> None:
    assert reading(minutes(6)).high_s == 360
    paced = reading(minutes(1, pace=Pace("plate", None)))
    assert (plain(paced.text), [plain(word) for word in paced.remarks], paced.high_s) == (
        "1 min per plate",
        ["8 min for 8 plates"],
        480,
    )


def test_what_is_no_action_has_no_timer() -> None:
    assert reading(minutes(5, shown_only=True)).high_s is None


def test_touches_and_attention() -> None:
    found = reading(
        minutes(40), Attention.ALONE, (Touch("turn", Fraction(1200), False), Touch("baste", Fraction(600), True))
    )
    assert [plain(word) for word in found.remarks] == ["alone", "turn at 20 min", "baste every 10 min"]


def test_an_assumed_time_shows_its_cue_alone() -> None:
    found = reading(minutes(5, assumed=True), cue="until golden")
    assert (found.text, found.cue, found.low_s) == ("until golden", "", None)


def test_an_oven_is_said_on_every_dial() -> None:
    found = reading(Temperature(Fraction(180), Fraction(180), "C", False, TemperatureOf.OVEN, None, False))
    assert (plain(found.text), plain(found.also)) == ("180 °C", "160 °C fan, 350 °F, gas 4")


def test_what_is_left_after_reducing_scales() -> None:
    assert plain(reading(Left(amount(300, "ml"), None)).text) == "600 ml"
    assert reading(Left(amount(300, "ml"), None)).kind is ReadingKind.LEFT


# ---------------------------------------------------------------- the rest


def test_plates_and_yield() -> None:
    one = made_of(serves=4, makes=amount(24), noun="blini")
    assert (plain(sheet(one).plates_text), plain(sheet(one).makes)) == ("4 plates", "24 blini")
    assert (plain(sheet(one, 6).plates_text), plain(sheet(one, 6).makes)) == ("6 plates", "36 blini")


def test_a_dish_that_serves_no_one_is_shown_as_written_and_says_so() -> None:
    found = sheet(replace(made_of(buy("1 carrot", "carrot", amount(1))), serves=None), 6)
    assert lines(found) == ["1 carrot"]
    assert found.notes == ("Shown as written: the dish does not say how many it serves.",)


def test_gear_once_and_what_is_used_up_scaled() -> None:
    pan = replace(used_up("frying pan", amount(1)), amount=None)
    same = replace(pan, same=True)
    two = replace(pan, name="baking sheets", key="baking sheet", pieces=2, size="40 cm")
    gear: list[GearUse] = [pan, same, pan, two, used_up("ice", amount(5, "kg"))]
    assert [plain(word) for word in sheet(made_of(gear=gear), 8).gear] == [
        "frying pan",
        "2 baking sheets, 40 cm",
        "10 kg ice",
    ]


def test_holds_in_words() -> None:
    hold = Hold(Fraction(3 * 86400), Fraction(3 * 86400), State.CHILLED, None, Fraction(5400), Fraction(1500), "oven")
    found = sheet(replace(made_of(), keeps=(hold,)))
    assert [plain(word) for word in found.keeps] == ["3 d chilled, cooled in 1 h 30 min, back in 25 min in the oven"]


def test_the_version_is_the_text_and_nothing_else() -> None:
    one, other = made_of(buy("1 carrot", "carrot", amount(1))), made_of(buy("2 carrots", "carrots", amount(2)))
    assert version_of(one) == sheet(one, 8).version != version_of(other)


def test_accepted_findings_are_printed_with_their_reason() -> None:
    one = made_of(buy("1 carrot", "carrot", amount(1)))
    finding = Finding("no-density", one.span, "No density.", accepted="weighed at the stall")
    other = Finding("no-density", one.span, "Not accepted, and no danger.")
    assert [(caution.text, caution.reason) for caution in sheet(one, findings=(other, finding)).cautions] == [
        ("No density.", "weighed at the stall")
    ]


def test_past_twice_the_dish_the_card_warns() -> None:
    one = made_of(buy("5 g salt", "salt", amount(5, "g")), buy("7 g dried yeast", "dried yeast", amount(7, "g")))
    assert sheet(one, 8).notes == ()
    notes = sheet(one, 20).notes
    assert notes[0] == "This is 5 times the dish as written."
    assert "salt at three quarters" in notes[1]
    assert "Re-test dried yeast" in notes[2]


def test_in_us_measures() -> None:
    one = made_of(buy("450 g butter", "butter", amount(450, "g")))
    found = dish_sheet(book([one]), stocked(), "plate", None, Style("us"))
    assert plain(found.ingredients[0].text) == "1 lb butter"

"""What a cook reads."""

from __future__ import annotations

from fractions import Fraction as F

import pytest

from recipec.measure.quantity import Amount, one, quantity
from recipec.measure.show import (
    Shown,
    Style,
    shopping,
    show_amount,
    show_duration,
    show_length,
    show_nitrite,
)
from recipec.measure.units import unit
from tests.changed import replace

METRIC, US = Style("metric"), Style("us")


def amount(number: str, key: str, high: str | None = None) -> Amount:
    return one(quantity(F(number), unit(key), None if high is None else F(high)))


def plain(shown: Shown) -> str:
    return shown.text.replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("number", "key", "written", "metric", "us"),
    [
        ("237", "ml", "235 ml", "235 ml", "1 cup"),
        ("3/2", "us_cup", "1½ cups", "355 ml", "1½ cups"),
        ("9/10", "us_cup", "¾ cup plus 2 tbsp", "215 ml", "¾ cup plus 2 tbsp"),
        ("1/2", "metric_cup", "½ cup", "125 ml", "½ cup plus ½ tbsp"),
        ("3", "metric_tsp", "1 tbsp", "1 tbsp", "1 tbsp"),
        ("1", "us_tbsp", "1 tbsp", "1 tbsp", "1 tbsp"),
        ("5", "us_tbsp", "5 tbsp", "5 tbsp", "5 tbsp"),
        ("30", "metric_tbsp", "450 ml", "450 ml", "1¾ cups plus 2 tbsp"),
        ("9/4", "lb", "2¼ lb", "1.02 kg", "2¼ lb"),
        ("23/10", "lb", "2 lb 5 oz", "1.04 kg", "2 lb 5 oz"),
        ("2500", "g", "2.5 kg", "2.5 kg", "5½ lb"),
        ("1234", "g", "1.23 kg", "1.23 kg", "2 lb 11½ oz"),
        ("7", "g", "7 g", "7 g", "7 g"),
        ("5/2", "dl", "2.5 dl", "250 ml", "1 cup plus 1 tbsp"),
        ("12", "dl", "1.2 l", "1.2 l", "5 cups"),
        ("1", "pinch", "a pinch", "a pinch", "a pinch"),
        ("2", "pinch", "2 pinches", "2 pinches", "2 pinches"),
        ("3", "leaf", "3 leaves", "3 leaves", "3 leaves"),
        ("3/2", "bunch", "1½ bunches", "1½ bunches", "1½ bunches"),
        ("3/4", "butter_stick", "¾ stick", "85 g", "¾ stick"),
        ("1/2", "uk_pint", "½ pint", "285 ml", "1¼ cups"),
        ("8", "us_floz", "8 fl oz", "235 ml", "1 cup"),
    ],
)
def test_by_measures(number: str, key: str, written: str, metric: str, us: str) -> None:
    given = amount(number, key)
    assert [plain(show_amount(given, style)) for style in (Style(), METRIC, US)] == [written, metric, us]


def test_the_cooks_own_amount_stays_to_the_letter() -> None:
    for number, key, text in (
        ("237", "ml", "237 ml"),
        ("3/2", "us_cup", "1½ cups"),
        ("7/10", "us_tsp", "0.7 tsp"),
        ("5/4", "kg", "1.25 kg"),
        ("1/3", "l", "⅓ l"),
        ("4", "piece", "4"),
    ):
        shown = show_amount(amount(number, key), written=True)
        assert (plain(shown), shown.rounded) == (text, False)
    compound = Amount((quantity(1, unit("us_cup")), quantity(2, unit("us_tbsp"))))
    assert plain(show_amount(compound, written=True)) == "1 cup plus 2 tbsp"
    assert plain(show_amount(compound.scaled(F(2)))) == "2¼ cups"
    assert plain(show_amount(amount("237", "ml"), METRIC, written=True)) == "235 ml"


def test_spoons_that_miss_the_bound_show_the_weight() -> None:
    third = amount("1/3", "us_tsp")
    assert plain(show_amount(third, density=F(6, 5))) == "¼ tsp (2 g)"
    assert plain(show_amount(third)) == "¼ tsp (1.6 ml)"
    assert plain(show_amount(amount("7/10", "us_tsp"), density=F(6, 5))) == "¾ tsp (4.1 g)"
    assert plain(show_amount(amount("1/50", "us_tsp"), density=F(6, 5))) == "0.12 g"


def test_pieces_that_miss_the_bound_show_the_weight() -> None:
    onions = show_amount(amount("8/5", "piece"), each=F(110))
    assert onions.with_name("onion", "onions") == "1⅔ onions"
    onions = show_amount(amount("7/6", "piece"), each=F(120))
    assert onions.with_name("onion", "onions").replace("\u00a0", " ") == "1¼ onions (140 g)"
    assert plain(show_amount(amount("7/6", "piece"))) == "about 1¼"


def test_a_size_is_of_pieces_and_not_of_the_grams_they_become() -> None:
    part = show_amount(replace(amount("1/8", "piece"), size="large"), each=F(200))
    assert part.with_name("onion", "onions").replace("\u00a0", " ") == "25 g onion"
    # Where the weight stands beside them, they are pieces still.
    more = show_amount(replace(amount("7/6", "piece"), size="large"), each=F(120))
    assert more.with_name("onion", "onions").replace("\u00a0", " ") == "1¼ large onions (140 g)"
    assert plain(show_amount(replace(amount("1/50", "bunch"), size="small"), each=F(100))) == "2 g"


def test_a_part_of_an_egg_is_in_grams() -> None:
    eggs = show_amount(amount("4/3", "piece"), each=F(50), rest="beaten egg")
    assert eggs.with_name("egg", "eggs").replace("\u00a0", " ") == "1 egg plus 16.5 g beaten egg"
    eggs = show_amount(amount("5/2", "piece"), each=F(50), rest="beaten egg")
    assert eggs.with_name("egg", "eggs").replace("\u00a0", " ") == "2 eggs plus 25 g beaten egg"
    third = show_amount(amount("1/3", "piece"), each=F(50), rest="beaten egg")
    assert third.with_name("egg", "eggs").replace("\u00a0", " ") == "16.5 g egg"
    assert show_amount(amount("3", "piece"), each=F(50), rest="beaten egg").with_name("egg", "eggs") == "3 eggs"


def test_ranges() -> None:
    assert plain(show_amount(amount("2", "sprig", "3"))) == "2–3 sprigs"
    assert plain(show_amount(amount("2", "metric_tsp", "3"))) == "2 tsp – 1 tbsp"
    assert plain(show_amount(amount("900", "g", "1100"))) == "900 g – 1.1 kg"
    assert plain(show_amount(amount("1", "piece", "2"))) == "1–2"


def test_what_one_holds_and_sizes() -> None:
    tins = Amount((quantity(2, unit("tin")),), each=quantity(400, unit("g")))
    assert plain(show_amount(tins)) == "2 tins (400 g each)"
    assert plain(show_amount(tins.scaled(F(1, 2)))) == "1 tin (400 g)"
    assert plain(show_amount(tins.scaled(F(7, 12)))) == "1¼ tins (465 g)"
    legs = Amount((quantity(4, unit("piece")),), each=quantity(250, unit("g")))
    for written in (True, False):
        shown = show_amount(legs, written=written).with_name("duck leg", "duck legs")
        assert shown.replace("\u00a0", " ") == "4 duck legs (250 g each)"
    bunch = Amount((quantity(1, unit("bunch")),), about=True, size="small")
    for written in (True, False):
        assert plain(show_amount(bunch, written=written)) == "about 1 small bunch"
    eggs = Amount((quantity(2, unit("piece")),), size="large")
    assert show_amount(eggs).with_name("egg", "eggs") == "2 large eggs"


def test_other_decimal_marks() -> None:
    assert plain(show_amount(amount("1250", "g"), Style(language="de"))) == "1,25 kg"
    assert plain(show_amount(amount("1250", "g"), Style(language="zz"))) == "1.25 kg"


@pytest.mark.parametrize(
    ("low", "high", "text"),
    [
        (60, None, "1 min"),
        (90, None, "90 s"),
        (150, None, "2 min 30 s"),
        (420, 600, "7–10 min"),
        (5400, None, "1 h 30 min"),
        (2700, 4500, "45 min – 1 h 15 min"),
        (43200, None, "12 h"),
        (86400, None, "1 d"),
        (129600, None, "36 h"),
        (172800, None, "2 d"),
        (604800, None, "7 d"),
        (1209600, None, "2 weeks"),
        (2592000, None, "1 month"),
        (3661, None, "1 h 2 min"),
        (F(1000, 3), None, "5 min 34 s"),
        (0, None, "0 s"),
    ],
)
def test_durations(low: F, high: F | None, text: str) -> None:
    assert show_duration(low, high).replace("\u00a0", " ") == text


def test_lengths() -> None:
    assert show_length(quantity(5, unit("mm"))) == "5\u00a0mm"
    assert show_length(quantity(F(3, 4), unit("inch"))) == "¾\u00a0in"
    assert show_length(quantity(1, unit("inch")), "metric") == "2.5\u00a0cm"
    assert show_length(quantity(20, unit("cm"), 24), "us") == "7⅞–9½\u00a0in"


def test_shopping_never_buys_too_little() -> None:
    assert plain(shopping(quantity(F(1234), unit("g")))) == "1.25 kg"
    assert plain(shopping(quantity(F(3, 2), unit("us_cup")))) == "360 ml"
    assert plain(shopping(quantity(F(1), unit("piece"), F(4, 3)))) == "2"
    assert plain(shopping(quantity(F(30), unit("oz")))) == "2 lb"
    assert plain(shopping(quantity(F(3, 2), unit("bunch")))) == "2 bunches"


def test_curing_salt_rounds_down_and_never_to_spoons() -> None:
    for number, text in (("2.59", "2.5 g"), ("0.099", "0.09 g"), ("1250", "1250 g")):
        assert plain(show_nitrite(quantity(F(number), unit("g")))) == text
    assert plain(show_nitrite(quantity(1, unit("us_tsp")))) == "4.9 ml"
    with pytest.raises(ValueError, match="piece"):
        show_nitrite(quantity(1, unit("piece")))


@pytest.mark.parametrize(
    ("number", "key", "size", "text"),
    [
        ("2/3", "us_tbsp", "heaped", "½ heaped tbsp"),
        ("1/8", "us_tsp", "heaped", "½ heaped tsp"),
        ("3/2", "us_tsp", "scant", "1½ scant tsp"),
        ("3", "metric_tsp", "heaped", "3 heaped tsp"),
    ],
)
def test_a_heap_is_shown_by_eye(number: str, key: str, size: str, text: str) -> None:
    heap = Amount((quantity(F(number), unit(key)),), size=size)
    assert show_amount(heap, density=F(1)).text.removeprefix("about ") == text


def test_no_eighth_beside_a_whole_spoon() -> None:
    assert plain(show_amount(amount("19/8", "us_tsp"))) == "2½ tsp (11.5 ml)"
    assert plain(show_amount(amount("3/8", "us_tsp"))) == "⅜ tsp"
    assert plain(show_amount(amount("19/8", "us_tsp"), density=F(1, 2))) == "2½ tsp (6 g)"


def test_cups_and_whole_spoons_where_they_do() -> None:
    assert plain(show_amount(amount("137/96", "us_cup"))) == "1¼ cups plus 3 tbsp"


def test_what_is_too_small_to_cut_stays_whole() -> None:
    leaves = [plain(show_amount(amount(number, "piece"), uncut=True)) for number in ("1/3", "2/3", "3/2", "7/3")]
    assert leaves == ["1", "1", "2", "2"]
    assert show_amount(amount("2/3", "piece"), uncut=True).rounded


def test_half_a_tin_holds_half() -> None:
    tin = Amount((quantity(F(1, 2), unit("tin")),), each=quantity(400, unit("g")))
    assert plain(show_amount(tin)) == "½ tin (200 g)"
    assert plain(show_amount(tin.scaled(F(3)))) == "1½ tins (400 g each)"

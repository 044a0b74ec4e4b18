"""What a card says of a dish made much larger or smaller: strength, lift, cures, and how long boiling down takes."""

from __future__ import annotations

from fractions import Fraction as F

import pytest

from recipec.larder.care import Care, care_of
from recipec.measure.quantity import Amount
from recipec.plan.fill import dish_sheet
from recipec.plan.reducing import Burner, seconds_for
from tests.analyse.book import book
from tests.plan.make import amount

KITCHEN = "Trial kitchen\noven: 1\nhob: 4 burners, induction, 3 kW\nhands: 1\n"


def notes(body: str, wanted: int | Amount, head: str = "serves: 4", **files: str) -> list[str]:
    text = f"Trial dish\n{head}\nmeasures: metric\n\n{body}\n"
    linked, _ = book({"trial.dish": text, **{name.replace("_", "."): file for name, file in files.items()}})
    from recipec.larder.larder import builtin

    much = F(wanted) if isinstance(wanted, int) else wanted
    sheet = dish_sheet(linked.book, builtin(), "trial", much)
    return [note.replace("\u00a0", " ") for note in sheet.notes]


@pytest.mark.parametrize(
    ("name", "care"),
    [
        ("fine salt", Care.SALT), ("flaky sea salt", Care.SALT), ("salt cod", Care.PLAIN), ("salted butter", Care.PLAIN),
        ("unsalted butter", Care.PLAIN), ("salt-baked beetroot", Care.PLAIN), ("red wine", Care.ALCOHOL),
        ("red wine vinegar", Care.PLAIN), ("sherry vinegar", Care.PLAIN), ("port", Care.ALCOHOL), ("pork", Care.PLAIN),
        ("kale", Care.PLAIN), ("pale ale", Care.ALCOHOL), ("apple cider", Care.PLAIN), ("ginger beer", Care.PLAIN),
        ("garlic cloves", Care.GARLIC), ("wild garlic", Care.PLAIN), ("garlic bread", Care.PLAIN), ("cloves", Care.SPICE),
        ("red chillies", Care.CHILLI), ("sweet chilli", Care.PLAIN), ("baking powder", Care.LEAVENING),
        ("fresh yeast", Care.LEAVENING), ("bicarbonate of soda", Care.LEAVENING), ("soda water", Care.PLAIN),
        ("leaf gelatine", Care.GELLING), ("pink curing salt", Care.NITRITE), ("Prague powder No. 1", Care.PLAIN),
        ("Prague powder no 1", Care.NITRITE), ("Himalayan pink salt", Care.PLAIN), ("black pepper", Care.SPICE),
        ("red pepper", Care.PLAIN), ("", Care.PLAIN),
    ],
)  # fmt: skip
def test_care_is_by_the_end_of_the_name(name: str, care: Care) -> None:
    assert care_of(name) is care


STEW = "Fry [3 cloves garlic], [10 g fine salt] and [100 ml red wine] with [1 kg carrots] for <6 min>."


def test_within_a_factor_of_two_nothing_is_said() -> None:
    assert notes(STEW, 8) == notes(STEW, 2) == []


def test_past_it_strength_is_tried() -> None:
    for plates, times in ((9, "2¼ times"), (1, "¼ of")):
        assert notes(STEW, plates) == [
            f"This is {times} the dish as written.",
            "Start garlic, fine salt and red wine at three quarters and taste before adding the rest.",
        ]


def test_raw_meat_fish_and_egg_are_never_tasted() -> None:
    for raw in ("800 g pork mince", "800 g cod fillet", "4 eggs", "800 g whatnot"):
        said = " ".join(notes(f"Mix [{raw}] with [12 g fine salt] for <2 min>.", 20))
        assert (
            "taste" not in said and "fine salt at three quarters, and judge the rest once all is cooked through" in said
        )


def test_percentages_and_rates_are_exact() -> None:
    body = (
        "Rub [1 kg duck legs] with [fine salt, 2.2% of the duck legs] for <2 min>. "
        "Boil [2 l water] with [flaky salt, 10 g per litre of the water] for <2 min>."
    )
    assert notes(body, 40) == ["This is 10 times the dish as written."]


def test_leavening_is_tried_anew() -> None:
    said = notes("Mix [500 g plain flour] with [7 g dried yeast] and [1 tsp baking powder] for <2 min>.", 12)
    assert said[1:] == ["Re-test dried yeast and baking powder: leavening does not always follow the sum."]


def test_curing_salt_is_weighed_and_rounded_down() -> None:
    body = "Rub [1.5 kg pork belly] with [curing salt, 0.25% of the pork belly] and leave it in a {fridge} for <5 d alone>."
    text = f"Trial dish\nserves: 4\nmeasures: metric\n\n{body}\n"
    linked, _ = book({"trial.dish": text})
    from recipec.larder.larder import builtin

    sheet = dish_sheet(linked.book, builtin(), "trial", F(6))
    # 0.25 % of 2250 g is 5.625 g.
    assert any(line.text.startswith("5.6\u00a0g curing salt") for line in sheet.ingredients)
    assert sheet.notes == (
        "Weigh the curing salt on a scale that shows 0.1 g; it is rounded down, and never measured by the spoon.",
    )


# ---------------------------------------------------------------- reducing


def test_the_least_time_is_latent_heat_over_what_gets_into_the_pan() -> None:
    # 2.26 MJ a litre; gas 0.4, electric 0.7, induction 0.85 of the power stated.
    assert seconds_for(F(1), Burner(F(2500), "gas", False)) == 2260
    assert seconds_for(F(2), Burner(F(2000), "electric", False)) == F(4520, F("1.4"))
    assert seconds_for(F(1, 2), Burner(F(2000), "induction", False)) == F(1130, F("1.7"))


STOCK = "Boil [1 l vegetable stock] in a {wide saucepan} down to <400 ml> for <20 min within reach>."


def test_a_reduction_has_a_new_time() -> None:
    # 3 l down to 1.2 l: 1.8 l at 2.26 MJ over 1 kW are 4068 s.
    assert notes(STOCK, 12)[1:] == [
        "Reducing to 1.2 l drives off 1.8 l of water: at least 1 h 5 min at the boil on a 2.5 kW gas burner, assumed here. That is "
        "the water alone, so go by how much is left."
    ]


def test_the_kitchen_says_how_strong_its_burners_are() -> None:
    # 1.8 l at 2.26 MJ over 3 kW × 0.85 are 1595 s.
    (said,) = notes(STOCK, 12, kitchen_kitchen=KITCHEN)[1:]
    assert "at least 26 min at the boil on a 3 kW induction burner." in said


def test_by_half_needs_what_is_in_the_pan() -> None:
    (said,) = notes("Boil [600 ml vegetable stock] and [200 g carrots] down <by half> for <9 min>.", 20)[1:]
    assert said.startswith("Reducing by half drives off 1.5 l of water: at least 55 min")
    (said,) = notes("Boil [vegetable stock, to taste] and [1 l whatever] down <by half> for <9 min>.", 20)[1:]
    assert said.startswith("Reducing ")


def test_what_was_made_before_counts() -> None:
    body = (
        "For the base:\n\nBoil [2 l vegetable stock] for <9 min>. -> base, 1 l\n\n"
        "To finish:\n\nBoil [the base] down to <500 ml> for <9 min>."
    )
    (said,) = notes(body, 12)[1:]
    assert said.startswith("Reducing to 1.5 l drives off 1.5 l of water")


def test_where_the_pan_is_unknown_the_note_is_general() -> None:
    body = "Boil the pan juices of [1 kg carrots] down to <400 ml> for <9 min>."
    assert notes(body, 12)[1:] == [
        "Reducing takes longer than the time given, at least in a pan of the same width: go by how much is left."
    ]
    assert notes(body, 1)[1:] == ["Reducing takes less than the time given: go by how much is left, from early on."]


def test_paced_times_grow_and_plain_ones_never_do() -> None:
    body = (
        "Roast [1 kg carrots] for <40 min alone> and <20 min per kg>. Fry them for <3 min a batch>. "
        "Plate for <1 min per plate>."
    )
    text = f"Trial dish\nserves: 4\n\n{body}\n"
    linked, _ = book({"trial.dish": text})
    from recipec.larder.larder import builtin

    for plates in (4, 40):
        sheet = dish_sheet(linked.book, builtin(), "trial", F(plates))
        pieces = [piece.text for block in sheet.strands[0].blocks for piece in getattr(block, "pieces", ())]
        said = "".join(pieces).replace("\u00a0", " ")
        assert "40 min" in said and "20 min per kg" in said and "3 min a batch" in said and "1 min per plate" in said


def test_amount_is_the_sum_that_was_asked_for() -> None:
    assert notes("Boil [1 l vegetable stock] for <2 min>. -> stock", amount(5, "l"), head="makes: 1 l") == [
        "This is 5 times the dish as written."
    ]

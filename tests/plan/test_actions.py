"""What a dish's text asks to be done: rules 27 to 31 of the language, one by one. All dishes are invented."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from recipec.base.places import grammar_dir
from recipec.plan.chunks import prose
from recipec.plan.timeline_types import Attend
from recipec.plan.work_figures import gear_work, verbs
from tests.plan.kitchen_book import actions, made

PANS = "Set the {oven} to <200 °C>.\n\n"


def test_each_duration_is_an_action_in_the_order_of_the_text(tmp_path: Path) -> None:
    found = actions(tmp_path, "Fry [2 onions] in a {frying pan} for <8 min>, then stir in [5 g cumin] for <1 min>.")
    assert [action.verb for action in found] == ["fry", "stir"]
    assert found[1].after == (0,)


def test_the_first_text_ends_where_the_next_begins(tmp_path: Path) -> None:
    first, second = actions(
        tmp_path, "Slice [2 leeks] for <4 min attended>, into the pot, and simmer for <9 min within reach>."
    )
    assert "into the pot" in prose(first.pieces)
    assert prose(second.pieces).startswith("simmer")


@pytest.mark.parametrize("words", ["every <5 min>", "within <5 min>", "after <5 min>", "before <5 min>"])
def test_what_follows_every_within_after_and_before_is_no_action(tmp_path: Path, words: str) -> None:
    found = actions(tmp_path, f"Simmer [1 l water] in a {{saucepan}} for <30 min within reach>, stirring {words}.")
    assert len(found) == 1


def test_sentences_before_the_first_action_are_one_handwork(tmp_path: Path) -> None:
    found = actions(tmp_path, "Rub [10 g salt] into [1 kg beef]. Press on [5 g pepper]. Rest it for <1 h>.")
    assert [(action.reading is None, action.attend) for action in found] == [
        (True, Attend.HANDS),
        (False, Attend.ALONE),
    ]


def test_after_an_attended_action_they_belong_to_it(tmp_path: Path) -> None:
    found = actions(tmp_path, "Fry [2 onions] in a {frying pan} for <8 min attended>. Stir in [5 g cumin].")
    assert len(found) == 1
    assert "stir in" in prose(found[0].pieces)


def test_after_another_they_are_handwork_that_follows(tmp_path: Path) -> None:
    found = actions(tmp_path, "Simmer [1 l water] in a {saucepan} for <8 min within reach>. Stir in [5 g cumin].")
    assert [action.after for action in found] == [(), (0,)]
    assert not found[1].beside


def test_or_beside_it_when_they_begin_with_meanwhile(tmp_path: Path) -> None:
    found = actions(
        tmp_path, "Simmer [1 l water] in a {saucepan} for <8 min within reach>. Meanwhile chop [1 bunch parsley]."
    )
    assert [(action.after, action.beside) for action in found] == [((), False), ((), True)]


def test_what_comes_next_waits_for_both(tmp_path: Path) -> None:
    found = actions(
        tmp_path,
        "Simmer [1 l water] in a {saucepan} for <8 min within reach>. Meanwhile chop [1 bunch parsley].\n\n"
        "Stir [the parsley] in for <1 min>.",
    )
    assert found[2].after == (0, 1)


def test_handwork_without_food_is_no_action(tmp_path: Path) -> None:
    found = actions(tmp_path, "Soak [200 g beans] in [1 l water] for <8 h alone>. Lift them out and pat them dry.")
    assert len(found) == 1
    assert "lift them out" in prose(found[0].pieces)


@pytest.mark.parametrize(
    ("text", "handwork"),
    [
        ("Rub [1 kg beef] with [10 g salt] and chill it in a {fridge} for <12 h>.", "rub"),
        ("Rub [1 kg beef] with [10 g salt], cover it, and leave it for <12 h alone>.", "rub"),
        ("Warm a {bowl}. Rub [1 kg beef] with [10 g salt] and rest it for <1 h>.", "warm"),
        ("Slice [2 leeks]. Toss [the leeks] in [10 g salt], then leave them for <1 h alone>.", "slice"),
    ],
)
def test_handwork_before_time_alone_is_an_action_of_its_own(tmp_path: Path, text: str, handwork: str) -> None:
    first, second = actions(tmp_path, text)
    assert (first.reading, first.attend, first.after) == (None, Attend.HANDS, ())
    assert prose(first.pieces).startswith(handwork)
    assert (second.attend, second.after, second.subject) == (Attend.ALONE, (0,), None)
    assert second.reading is not None and "rub" not in prose(second.pieces)


@pytest.mark.parametrize(
    "text",
    [
        "Soak [200 g beans] in [1 l water] and leave them for <8 h alone>.",
        "Cover it and leave [1 kg beef] for <8 h alone>.",
        "Toss [2 leeks] in [10 g salt] and fry them in a {frying pan} for <8 min>.",
        "Stir [10 g salt] into [1 l water] in a {saucepan} and simmer for <8 min within reach>.",
    ],
)
def test_but_not_where_hands_do_nothing_first_or_somebody_stays(tmp_path: Path, text: str) -> None:
    assert len(actions(tmp_path, text)) == 1


def test_such_handwork_belongs_to_an_attended_action_before_it(tmp_path: Path) -> None:
    found = actions(
        tmp_path,
        "Fry [2 onions] in a {frying pan} for <8 min attended>. Stir in [5 g cumin], cover, and leave for <1 h alone>.",
    )
    assert [(action.attend, "stir in" in prose(action.pieces)) for action in found] == [
        (Attend.HANDS, True),
        (Attend.ALONE, False),
    ]


def test_beside_something_else_its_rest_waits_for_it_alone(tmp_path: Path) -> None:
    found = actions(
        tmp_path,
        "Simmer [1 l water] in a {saucepan} for <8 min within reach>. "
        "Meanwhile rub [1 kg beef] with [10 g salt] and chill it in a {fridge} for <1 h>.\n\nStir it for <1 min>.",
    )
    assert [action.after for action in found] == [(), (), (1,), (0, 2)]


def test_its_words_go_with_the_next_action(tmp_path: Path) -> None:
    found = actions(tmp_path, "Warm the plates. Whip [200 ml cream] in a {bowl} for <3 min>.")
    assert len(found) == 1
    assert prose(found[0].pieces).startswith("warm the plates")


@pytest.mark.parametrize(
    ("text", "attend"),
    [
        ("Simmer [1 l water] in a {saucepan} for <9 min within reach>.", Attend.REACH),
        ("Simmer [1 l water] in a {saucepan} for <9 min alone>.", Attend.ALONE),
        ("Rest [1 kg beef] for <9 min attended>.", Attend.HANDS),
        (PANS + "Roast [1 kg beef] in {the oven} for <9 min>.", Attend.REACH),
        ("Keep [1 l water] in a {bain-marie} for <9 min>.", Attend.REACH),
        ("Put [1 l water] into the {fridge} for <9 min>.", Attend.ALONE),
        ("Rest [1 kg beef] for <9 min>.", Attend.ALONE),
        ("Let [1 kg beef] rest for <9 min>.", Attend.ALONE),
        ("Mix [1 kg flour] with [600 ml water], cover it and leave it to prove for <9 min>.", Attend.ALONE),
        ("Toast [40 g sesame seeds] in a dry {frying pan} for <3 min>.", Attend.HANDS),
        ("Knead [1 kg flour] for <9 min>.", Attend.HANDS),
        ("Plate [1 kg beef] for <40 s per plate>.", Attend.HANDS),
    ],
)
def test_attention_by_the_first_that_says_it(tmp_path: Path, text: str, attend: Attend) -> None:
    assert actions(tmp_path, text)[-1].attend is attend


def test_the_gear_its_food_lies_in_decides_too(tmp_path: Path) -> None:
    found = actions(tmp_path, PANS + "Roast [1 kg beef] in {the oven} for <9 min>. Roast for another <5 min>.")
    assert [action.attend for action in found] == [Attend.REACH, Attend.REACH]
    assert found[1].heat is not None


def test_until_other_gear_is_named(tmp_path: Path) -> None:
    found = actions(
        tmp_path, PANS + "Roast [1 kg beef] in {the oven} for <9 min>. Fry it in a {frying pan} for <5 min>."
    )
    assert found[1].attend is Attend.HANDS
    assert found[1].heat is None
    assert found[1].pan is not None


def test_the_words_that_need_no_hands_are_those_of_the_language() -> None:
    words = tomllib.loads((grammar_dir() / "words.en.toml").read_text(encoding="utf-8"))
    assert verbs("hands-free") == set(words["verbs"]["hands-free"])


def test_setting_an_oven_is_no_action_and_its_temperature_carries_over(tmp_path: Path) -> None:
    (found,) = actions(tmp_path, "Set the {oven} to <200 °C>.\n\nRoast [1 kg beef] in {the oven} for <30 min>.")
    assert found.heat is not None
    assert (found.heat.low, found.heat.high) == (2000, 2000)


def test_from_the_text_above_the_first_heading_failing_that(tmp_path: Path) -> None:
    text = "Set the {oven} to <180 °C>.\n\nFor the crumb:\n\nBake [100 g oats] in {the oven} for <9 min>."
    found = actions(tmp_path, text)[-1].heat
    assert found is not None and found.low == 1800


@pytest.mark.parametrize(
    ("written", "tenths"), [("160 °C fan", 1800), ("gas 4", 1800), ("350 °F", 1800), ("180-200 °C", 1800)]
)
def test_settings_as_a_dial_without_a_fan_shows_them(tmp_path: Path, written: str, tenths: int) -> None:
    text = f"Set the {{oven}} to <{written}>.\n\nRoast [1 kg beef] in {{the oven}} for <30 min>."
    heat = actions(tmp_path, text)[-1].heat
    assert heat is not None and heat.low == tenths


def test_tolerance_widens_it(tmp_path: Path) -> None:
    text = "Set the {oven} to <200 °C>.\n\nRoast [1 kg beef] in {the oven} for <30 min>."
    heat = made(tmp_path, text, facts="serves: 4\ntolerance: 10 °C").actions[0].heat
    assert heat is not None and (heat.low, heat.high) == (1900, 2100)


def test_one_shelf_unless_it_says_more(tmp_path: Path) -> None:
    text = (
        PANS
        + "Bake [1 kg flour] in {the oven, 2 shelves} for <9 min>. Turn {the oven} down to <150 °C> and bake for <5 min>."
    )
    found = actions(tmp_path, text)
    assert [action.heat.shelves for action in found if action.heat] == [2, 2]
    assert [action.heat.low for action in found if action.heat] == [2000, 1500]


def test_an_oven_turned_off_may_fall(tmp_path: Path) -> None:
    text = (
        PANS + "Bake [1 kg flour] in {the oven} for <9 min>. Turn the oven off and leave it there for <30 min alone>."
    )
    heat = actions(tmp_path, text)[1].heat
    assert heat is not None and (heat.low, heat.high) == (0, 2000)


def test_resting_is_out_of_the_oven(tmp_path: Path) -> None:
    found = actions(tmp_path, PANS + "Roast [1 kg beef] in {the oven} for <9 min>. Let it rest for <20 min>.")
    assert found[1].heat is None
    assert found[1].attend is Attend.ALONE


def test_a_pan_is_on_a_burner_while_it_cooks(tmp_path: Path) -> None:
    found = actions(
        tmp_path,
        "Fry [2 onions] in a {frying pan} for <8 min>. Leave them for <5 min>. Chop [1 bunch parsley] for <2 min>. "
        "Stir it in for <1 min>.",
    )
    assert [action.pan is not None for action in found] == [True, False, False, True]


def test_a_bowl_over_water_takes_one_too(tmp_path: Path) -> None:
    (found,) = actions(tmp_path, "Melt [200 g chocolate] in a {bowl} over simmering water for <8 min within reach>.")
    assert found.over_water


def test_gear_is_held_until_other_gear_takes_what_is_in_it(tmp_path: Path) -> None:
    work = made(
        tmp_path,
        "Whip [200 ml cream] in a {bowl} for <3 min>.\n\nRest it for <5 min>.\n\nWarm it in a {saucepan} for <4 min>.",
    )
    bowl = work.held[0]
    assert (bowl.first, bowl.last, bowl.to_start) == (0, 2, False)


def test_or_its_step_ends_in_an_arrow(tmp_path: Path) -> None:
    work = made(tmp_path, "Whip [200 ml cream] in a {bowl} for <3 min>. -> cream\n\nRest [the cream] for <5 min>.")
    assert (work.held[0].first, work.held[0].last) == (0, 0)


def test_unless_it_is_held_in_it(tmp_path: Path) -> None:
    work = made(
        tmp_path,
        "Whip [200 ml cream] in a {bowl} for <3 min>. -> cream, holds 1 h in {bowl}\n\nRest [the cream] for <5 min>.",
    )
    assert (work.held[0].first, work.held[0].last) == (0, 1)


def test_the_pan_is_the_same_piece_and_pan_another(tmp_path: Path) -> None:
    work = made(
        tmp_path,
        "Fry [2 onions] in a {frying pan} for <8 min>. Fry [2 leeks] in {the frying pan} for <3 min>. "
        "Fry [2 carrots] in a {frying pan} for <4 min>.",
    )
    assert [held.mark for held in work.held] == [0, 2]


def test_a_step_without_food_or_time_ends_the_work_before_it(tmp_path: Path) -> None:
    (found,) = actions(
        tmp_path, "Simmer [1 l water] in a {saucepan} for <9 min within reach>.\n\nStrain it into a {bowl}. -> broth"
    )
    assert [one.name for one in found.made] == ["broth"]


def test_waiting_begins_at_the_action_that_mentions_it(tmp_path: Path) -> None:
    text = (
        "For the butter:\n\nMelt [100 g butter] in a {saucepan} for <3 min>. -> melted butter\n\n"
        "To finish:\n\nChop [1 bunch dill] for <2 min>. Slice [2 leeks] for <3 min>. "
        "Stir [the melted butter] in for <1 min>."
    )
    assert [action.waits for action in actions(tmp_path, text)] == [(), (), (), (0,)]


def test_the_longest_last_words_of_the_table_count() -> None:
    assert gear_work("roasting pan") != gear_work("pan")
    assert gear_work("large frying pan") == gear_work("pan")
    assert gear_work("press").kind == "gear"

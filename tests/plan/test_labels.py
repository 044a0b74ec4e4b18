"""Tubs, leftovers and the safety log of a small invented booking: what must stand on them, and what must never be left out."""

from __future__ import annotations

from datetime import datetime
from fractions import Fraction
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from recipec.book.compile import Build, compile_book
from recipec.book.timeline import planned_events
from recipec.emit.paper import Request, emit_book
from recipec.larder.ingredient import Presence
from recipec.model.reading import Hold, State
from recipec.plan.labels import Label, labels_of, shelf
from recipec.plan.leftovers import leftovers_of
from recipec.plan.market import market
from recipec.plan.safety_log import CheckKind, safety_log
from recipec.plan.styling import style_of
from recipec.plan.timeline_types import Planned
from tests.plan.guest_books import build as lunch

SAUCE = """Pea sauce
makes: 1 l

Soften [100 g unsalted butter] in a {saucepan} for <10 min within reach>, add [1 l water] and
[500 g frozen peas] and simmer for <20 min within reach>.
-> pea sauce, 1 l, holds 2 d chilled, cooled in 60 min, back in 10 min in {the saucepan}
"""
DISH = """Lamb with pea sauce
serves: 4

For the crumb:

Toast [80 g walnuts] and [20 g wonder dust] in a {frying pan} for <5 min attended>. -> crumb, holds 5 d

For the dressing:

Stir [50 g plain yogurt] with [10 g mint] in a {bowl}. -> dressing, holds 1 d chilled

To finish:

Roast [800 g lamb leg] on a {tray} until <58 °C core>. Serve it with [400 ml our pea sauce], [the dressing] and
[the crumb].
"""
EVENT = """Supper by the weir
guests: 4
serve: 2026-05-02 19:00
arrive: 2026-05-02 12:00
leave by: 23:00
seat 2: allergic to tree nuts

Main, <19:00>:

[3 plates of our lamb with pea sauce]
[1 plate of our lamb with pea sauce, without walnuts, for seat 2]
"""


@cache
def built(safety: str) -> Build:
    with TemporaryDirectory() as folder:
        root = Path(folder)
        (root / "dishes").mkdir()
        (root / "events").mkdir()
        (root / "cookbook.toml").write_text(f'title = "Weir"\nmeasures = "metric"\nsafety = "{safety}"\n', "utf-8")
        (root / "dishes" / "pea-sauce.dish").write_text(SAUCE, "utf-8")
        (root / "dishes" / "lamb-with-pea-sauce.dish").write_text(DISH, "utf-8")
        (root / "events" / "weir.event").write_text(EVENT, "utf-8")
        return compile_book(root)


def labels(safety: str = "uk", planned: Planned | None = None) -> dict[tuple[str, tuple[str, ...]], Label]:
    build = built(safety)
    found = labels_of(build.book, build.larder, build.book.events[0], planned)
    return {(label.name, label.without): label for label in found}


def said(label: Label, presence: Presence) -> set[str]:
    return {one.group.key for one in label.held if one.presence is presence}


def test_every_tub_has_a_label_with_its_own_allergens_and_no_more() -> None:
    found = labels()
    assert {name for name, _ in found} == {"pea sauce", "crumb", "dressing"}
    assert said(found["pea sauce", ()], Presence.CONTAINS) == {"milk"}
    assert said(found["dressing", ()], Presence.CONTAINS) == {"milk"}
    assert said(found["crumb", ()], Presence.CONTAINS) == {"nuts"}
    assert [one.kinds for one in found["crumb", ()].held if one.group.key == "nuts"] == [("walnut",)]


def test_what_nobody_knows_stands_on_the_label() -> None:
    crumb = labels()["crumb", ()]
    assert crumb.open == ("wonder dust",)
    assert said(crumb, Presence.NOT_IN_RECIPE) == set()


def test_the_seats_plate_has_a_tub_of_its_own_where_it_differs() -> None:
    found = labels()
    apart = [label for (name, without), label in found.items() if name == "crumb" and without]
    assert all("nuts" not in said(label, Presence.CONTAINS) for label in apart)
    assert not [without for name, without in found if name == "pea sauce" and without], "the same sauce is one tub"


def test_without_a_plan_days_are_left_to_be_written_in() -> None:
    assert all(label.made is None and label.use_by is None for label in labels().values())


@pytest.mark.parametrize(
    ("rules", "hold_days", "rice", "since", "end"),
    [
        ("us-food-code", 9, False, 1, datetime(2026, 5, 7, 23, 59)),
        ("us-food-code", 9, False, 3, datetime(2026, 5, 9, 23, 59)),
        ("us-food-code", 2, False, 3, datetime(2026, 5, 5, 14, 0)),
        ("uk", 9, False, 1, datetime(2026, 5, 12, 14, 0)),
        ("uk", 3, True, 3, datetime(2026, 5, 4, 14, 0)),
    ],
)
def test_the_earliest_end_counts(rules: str, hold_days: int, rice: bool, since: int, end: datetime) -> None:
    """Seven days with the day it was made as the first, from the oldest chilled thing in it; what the dish says; a day for rice."""
    seconds = Fraction(hold_days * 86_400)
    hold = Hold(seconds, seconds, State.CHILLED, None, None, None, None)
    found = shelf(rules, datetime(2026, 5, 3, 14), datetime(2026, 5, since, 9), State.CHILLED, hold, rice)
    assert found is not None
    assert found.at == end


def test_what_was_pink_is_not_kept_and_what_was_heated_again_is_not_heated_once_more() -> None:
    build = built("us-food-code")
    left = leftovers_of(build.book, build.larder, build.book.events[0], None)
    assert [line.without for line in left] == [(), ("walnuts",)]
    assert all("lamb leg" in line.throw for line in left)
    assert all(line.heated for line in left)
    assert [Presence.CONTAINS in {one.presence for one in line.held if one.group.key == "nuts"} for line in left] == [
        True,
        False,
    ]


def test_the_log_asks_for_cores_cooling_heating_and_the_allergic_seat() -> None:
    build = built("us-food-code")
    event = build.book.events[0]
    bought = market(build.book, build.larder, (event.key,), style_of(build.book))
    found = safety_log(build.book, build.larder, event, bought, None)
    of = {kind: [check for check in found if check.kind is kind] for kind in CheckKind}
    assert any("lamb leg" in check.what and "58" in check.limits[1] for check in of[CheckKind.CORE])
    assert of[CheckKind.COOL][0].limits[:2] == (
        "21\u00a0°C or colder within 2\u00a0h",
        "5\u00a0°C or colder within 6\u00a0h",
    )
    assert any(check.limits[0].startswith("74\u00a0°C") for check in of[CheckKind.BACK])
    assert [check.what for check in of[CheckKind.SEAT]] == ["seat 2, allergic to tree nuts"]
    assert [check.at and check.at.hour for check in of[CheckKind.COLD] if check.what == "fridge"] == [12, 16, 20]
    assert all(check.source for check in found)


def test_the_log_has_a_line_for_whoever_asks_in_the_words_of_an_allergy(tmp_path: Path) -> None:
    seats = ("seat 1: gluten-free", "seat 2: no nuts", "seat 3: vegetarian", "seat 4: rather not milk")
    build = lunch(tmp_path, "Main, <13:00>:\n\n[our charred leeks]\n", seats)
    event = build.book.events[0]
    bought = market(build.book, build.larder, (event.key,), style_of(build.book))
    found = [
        check for check in safety_log(build.book, build.larder, event, bought, None) if check.kind is CheckKind.SEAT
    ]
    assert [check.what.partition(",")[0] for check in found] == ["seat 1", "seat 2"]


@pytest.mark.parametrize("safety", ["uk", "us-food-code"])
def test_every_paper_names_the_rule_set_and_is_no_substitute(safety: str) -> None:
    build = built(safety)
    papers = {paper.path: paper.data.decode() for paper in emit_book(Request(build.book, build.larder, build.findings))}
    for name in ("labels", "leftovers", "log"):
        text = papers[f"events/weir/{name}.html"]
        assert "Follow your local code and your own licence and training; this is not a substitute" in text
        assert ("FDA Food Code" in text) == (safety == "us-food-code")
    assert "wonder dust" in papers["events/weir/labels.html"]
    assert "unknown is never free" in papers["events/weir/labels.html"]
    assert "Not kept:" in papers["events/weir/leftovers.html"]


def test_the_demo_books_labels_have_their_days_from_the_plan() -> None:
    build = compile_book(Path(__file__).parents[2] / "recipes")
    event = build.book.events[0]
    planned = planned_events(build, (event.key,))[event.key]
    assert isinstance(planned, Planned)
    found = labels_of(build.book, build.larder, event, planned)
    assert found
    for label in found:
        assert label.made is not None
        assert label.use_by is not None
        assert label.made < label.use_by.at

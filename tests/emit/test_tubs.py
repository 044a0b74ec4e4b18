"""Labels, the leftovers sheet and the safety log as text, as JSON and as pages that travel alone, of a small invented booking."""

from __future__ import annotations

import json
from collections.abc import Callable
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from jsonschema import Draft202012Validator  # type: ignore[import-untyped]
from pages import read

from recipec.book.compile import Build
from recipec.book.timeline import planned_events
from recipec.emit.json_papers import schema
from recipec.emit.request import Request
from recipec.emit.tub_json import labels_json, leftovers_json, log_json
from recipec.emit.tub_pages import tub_page
from recipec.emit.tub_text import labels_text, leftovers_text, log_text
from recipec.emit.tub_words import TubHead, TubPaper, tub_head
from recipec.plan.labels import labels_of
from recipec.plan.leftovers import leftovers_of
from recipec.plan.market import market
from recipec.plan.safety_log import safety_log
from recipec.plan.styling import style_of
from recipec.plan.timeline_types import Planned
from tests.plan.guest_books import build

PINK = (
    "Pink duck\nserves: 6\naccept: core-too-low for duck breast, the menu says pink\n\n"
    "For the dressing:\n\nStir [100 g plain yogurt] with [10 g mint] in a {bowl}.\n-> dressing, 110 g, holds 1 d chilled\n\n"
    "To finish:\n\nRoast [6 duck breasts] on a {tray} for <20 min within reach>, until <54 °C core>. Serve with [the dressing] and "
    "[50 g our hazel pesto].\n"
)
PICKLE = (
    "Odd pickle\nserves: 6\n\nStir [20 g odd powder] into [300 g carrots] in a {bowl}.\n-> pickle, holds 3 d chilled, back in 5 min in a "
    "{saucepan}\n\nServe [the pickle].\n"
)
HEAD = "Boathouse lunch\nguests: 6\nserve: 2026-06-20 13:00\narrive: 2026-06-20 08:00\n"


@cache
def booked(planned: bool) -> tuple[Build, Planned | None]:
    with TemporaryDirectory() as folder:
        courses = "Main, <13:00>:\n\n[our pink duck]\n[our odd pickle]\n"
        seats = ("seat 2: allergic to tree nuts",)
        built = build(Path(folder), courses, seats, head=HEAD, pink=PINK, pickle=PICKLE)
    if not planned:
        return built, None
    plan = planned_events(built)["lunch"]
    assert isinstance(plan, Planned) and plan.plan.placed
    return built, plan


def head(built: Build, paper: TubPaper) -> TubHead:
    return tub_head(built.book, built.book.events[0], paper, built.findings)


def labels(planned: bool, write: Callable[..., str]) -> str:
    built, plan = booked(planned)
    return write(head(built, TubPaper.LABELS), labels_of(built.book, built.larder, built.book.events[0], plan))


def leftovers(planned: bool, write: Callable[..., str]) -> str:
    built, plan = booked(planned)
    return write(head(built, TubPaper.LEFTOVERS), leftovers_of(built.book, built.larder, built.book.events[0], plan))


def log(planned: bool, write: Callable[..., str]) -> str:
    built, plan = booked(planned)
    event = built.book.events[0]
    bought = market(built.book, built.larder, (event.key,), style_of(built.book))
    return write(head(built, TubPaper.LOG), safety_log(built.book, built.larder, event, bought, plan))


TEXTS = ((labels, labels_text), (leftovers, leftovers_text), (log, log_text))
DATA = ((labels, labels_json, "labels"), (leftovers, leftovers_json, "leftovers"), (log, log_json, "log"))


@pytest.mark.parametrize("planned", [False, True])
@pytest.mark.parametrize(("of", "write"), TEXTS)
def test_every_text_is_eighty_columns_and_says_rules_and_dangers(
    of: Callable[..., str], write: Callable[..., str], planned: bool
) -> None:
    text = of(planned, write)
    assert all(len(line) <= 80 for line in text.splitlines())
    flat = " ".join(text.split())
    assert "Follow your local code and your own licence and training" in flat
    assert "too low for the duck breasts" in flat and "Accepted by the cook: the menu says pink" in flat


@pytest.mark.parametrize("planned", [False, True])
@pytest.mark.parametrize(("of", "write", "name"), DATA)
def test_every_json_has_the_shape_that_is_shipped(
    of: Callable[..., str], write: Callable[..., str], name: str, planned: bool
) -> None:
    data = json.loads(of(planned, write))
    Draft202012Validator(json.loads(schema(name))).validate(data)
    assert (data["event"], data["rules"]) == ("lunch", "uk")
    assert ("core-too-low", "the menu says pink") in [(one["slug"], one["reason"]) for one in data["cautions"]]


def test_labels_say_what_is_known_and_leave_room_for_the_rest() -> None:
    bare, planned = (" ".join(labels(plan, labels_text).split()) for plan in (False, True))
    assert "DRESSING 110 g of Pink duck" in bare and "Made ____" in bare and "Use by ____" in bare
    assert "Contains milk" in bare and "May contain milk, nuts" in bare and "Initials ____" in bare
    assert "Made Saturday 20 June 2026," in planned and "Use by Sunday 21 June 2026" in planned
    data = {one["name"]: one for one in json.loads(labels(True, labels_json))["labels"]}
    assert data["dressing"]["amount"] == {"value": "110", "unit": "g", "text": "110\u00a0g"}
    assert data["dressing"]["cells"]["milk"] == "contains" and data["dressing"]["foods"]["milk"] == ["plain yogurt"]
    assert data["pickle"]["cells"]["celery"] == "contains" and data["pickle"]["back"]
    assert data["dressing"]["made"] < data["dressing"]["use_by"]["at"]
    assert json.loads(labels(False, labels_json))["labels"][0]["made"] is None


def test_what_is_pink_is_not_kept_and_has_no_day() -> None:
    flat = " ".join(leftovers(True, leftovers_text).split())
    assert "PINK DUCK Not kept served raw, or not cooked through: duck breasts" in flat
    pink, pickle = json.loads(leftovers(True, leftovers_json))["lines"]
    assert pink["use_by"] is None and "duck breasts" in pink["not_kept"]
    assert pickle["use_by"]["why"] and pickle["not_kept"] is None and pickle["plates"] == "6"


def test_the_log_has_a_blank_for_every_limit() -> None:
    data = json.loads(log(True, log_json))
    limits = sum(len(one["limits"]) for one in data["checks"])
    text = log(True, log_text)
    assert text.count("[ ] ") == len(data["checks"])
    # Three more in each line, and who signs.
    assert text.count("_" * 12) - 4 == limits + 3 * len(data["checks"])
    assert "seat 2, allergic to tree nuts (Pink duck)" in text
    assert [one["kind"] for one in data["checks"]] == sorted(
        (one["kind"] for one in data["checks"]), key=[one["kind"] for one in data["checks"]].index
    )


@pytest.mark.parametrize("paper", TubPaper)
def test_a_page_that_travels_alone_leads_nowhere_and_carries_its_styles(paper: TubPaper) -> None:
    built, plan = booked(True)
    data = tub_page(Request(built.book, built.larder, built.findings), built.book.events[0], plan, paper).data
    page = read(data)
    assert not page.all("a") and page.all("style") and not page.all("link")
    assert "the menu says pink" in page.text

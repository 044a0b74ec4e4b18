"""A planned lunch as text, calendar, drawings and pages: what must be on them, and that nothing a cook writes breaks them."""

from __future__ import annotations

import json
import re
from datetime import datetime, timedelta
from itertools import pairwise
from types import MappingProxyType
from typing import Any
from xml.etree import ElementTree

import pytest
from icalendar import Calendar
from jsonschema import Draft202012Validator  # type: ignore[import-untyped]

from recipec.base.finding import Severity
from recipec.emit.desk import Desk, desk
from recipec.emit.json_papers import schema
from recipec.emit.lanes_draw import LETTERS, Drawing, wide
from recipec.emit.lanes_time import LONGEST_S, strips
from recipec.emit.plain import columns
from recipec.emit.render import style
from recipec.emit.request import Paper, Request
from recipec.emit.timeline_ics import timeline_ics
from recipec.emit.timeline_json import timeline_json
from recipec.emit.timeline_page import timeline_page, timelines
from recipec.emit.timeline_svg import Lanes, lanes, timeline_svg
from recipec.emit.timeline_text import timeline_text
from recipec.emit.timeline_words import Words, gear_name
from recipec.measure.show import Style
from recipec.plan.run_sheet import run_sheet
from recipec.plan.run_sheet_types import OnGear
from recipec.plan.sheet import Caution
from recipec.plan.timeline_types import Attend, Planned, Status, Unplanned
from tests.changed import replace
from tests.emit.bookings import event
from tests.plan.make import book, stocked
from tests.plan.plans import at, clock, impossible, lunch, nasty

NASTY = (
    "salt, pepper; “more”\nand\tmore",
    "back\\slash \\n \\; \\,",
    "😀 👩🏽‍🍳 é e\u0301 日本語の長い名前",
    "x" * 200,
    "a word " * 40,
    "</svg><script>alert(1)</script>&amp;<b title='\"'>",
    "{{ 7 * 7 }}{% raw %}",
    "END:VEVENT\r\nBEGIN:VALARM",
    "nul\0 and \x1b[31m and \u202e turned",
)


def entries(data: bytes) -> list[Any]:
    return list(Calendar.from_ical(data).walk("VEVENT"))


# ---------------------------------------------------------------- text


@pytest.mark.parametrize("words", ["plain", *NASTY])
def test_text_keeps_to_eighty_columns_where_words_allow(words: str) -> None:
    text = timeline_text(nasty(words))
    longest = max([20, *(columns(word) for word in words.split())])
    assert all(columns(line) <= max(80, 30 + longest) for line in text.splitlines())
    assert "\x1b" not in text and "\0" not in text and "\u202e" not in text


def test_text_says_all_that_a_run_sheet_must() -> None:
    text = timeline_text(lunch())
    for words in (
        "Best possible, and proved so", "FRIDAY 16 JANUARY 2026", "T−22:00", "burner 1, saucepan 1", "can wait till 15:30",
        "done by 15:50", "time assumed", "batch 2 of 2", "Shake: roast carrots", "Fire Main", "▶ Main on the pass", "hands 2",
        "Turn the oven from 150 °C (fan 130 °C) to 220 °C (fan 200 °C), hot by 12:55", "15 min late: nothing breaks",
        "8 min too long until “plate custards”", "You stay 10 min longer", "vacuum flask", "10 min to spare", "Kept free",
    ):  # fmt: skip
        assert words.replace(" ", "") in re.sub(r"\s+", "", text).replace("\u00a0", ""), words


def test_the_time_to_go_and_the_clock_always_agree() -> None:
    for line in timeline_text(lunch()).splitlines():
        found = re.match(r"(\d\d):(\d\d) +T([−+])(\d+):(\d\d) ", line)
        if found:
            hours, minutes, sign, ago, rest = found.groups()
            off = (int(ago) * 60 + int(rest)) * (-1 if sign == "−" else 1)
            assert (13 * 60 + off - int(hours) * 60 - int(minutes)) % (24 * 60) == 0, line


def test_a_plan_that_is_not_proved_says_how_far_it_may_be_from_the_best() -> None:
    planned = lunch()
    plan = replace(
        planned.plan, status=Status.FEASIBLE, goals=(replace(planned.plan.goals[0], name="calm", bound=2400),)
    )
    text = " ".join(timeline_text(replace(planned, plan=plan)).split())
    assert "not proved" in text and "50 min, and no plan can have less than 40 min" in text
    assert "Best possible" not in text


def test_what_cannot_be_has_no_run_sheet_but_what_collides_and_what_was_tried() -> None:
    text = " ".join(timeline_text(impossible()).split())
    assert "The oven is wanted at 220 °C for the carrots and at 150 °C" in text
    assert "· A second oven." in text
    assert "T−" not in text and "on the pass" not in text


def test_days_and_clock_are_the_books_language() -> None:
    german, finnish = (timeline_text(lunch(), style=Style(language=language)) for language in ("de", "fi"))
    assert "SAMSTAG, 17. JANUAR 2026" in german and "13:00" in german
    assert "13.00" in finnish and "13:00 " not in finnish


def test_an_american_book_has_fahrenheit_on_its_ovens() -> None:
    text = timeline_text(lunch(), style=Style("us"))
    assert "425 °F" in text and "°C" not in text.split("COURSE")[1]


PINK = (
    Caution(
        "core-too-low", Severity.DANGER, "Duck: 58 °C inside is too low for the duck breasts.", "the menu says pink"
    ),
    Caution("cooling-too-slow", Severity.DANGER, "Stock: it is not cold in time.", ""),
)


def test_dangers_stand_above_the_courses_with_the_cooks_reason() -> None:
    text = " ".join(timeline_text(lunch(), cautions=PINK).split())
    assert (
        "DANGER: Duck: 58 °C inside is too low for the duck breasts. Accepted by the cook: the menu says pink" in text
    )
    assert text.index("DANGER: Stock: it is not cold in time.") < text.index("COURSE")
    assert "DANGER: Duck" in timeline_text(impossible(), cautions=PINK)


def test_dangers_are_in_the_data_too() -> None:
    data = json.loads(timeline_json(lunch(), cautions=PINK))
    Draft202012Validator(json.loads(schema("timeline"))).validate(data)
    assert [(one["slug"], one["reason"]) for one in data["cautions"]] == [
        ("core-too-low", "the menu says pink"),
        ("cooling-too-slow", ""),
    ]
    assert json.loads(timeline_json(lunch()))["cautions"] == []


# ---------------------------------------------------------------- calendar


def test_a_step_with_hands_or_a_touch_is_an_entry_with_an_alarm_before() -> None:
    planned = lunch()
    found = {str(entry["summary"]): entry for entry in entries(timeline_ics(planned))}
    wanted = [
        place
        for place in planned.plan.placed
        if (task := planned.problem.tasks[place.task]).attend is Attend.HANDS or task.touches
    ]
    assert len(found) == len(wanted) + len(planned.problem.courses)
    starts = sorted(entry["dtstart"].dt for entry in found.values())
    assert starts == sorted(
        [clock(planned, place.start) for place in wanted]
        + [clock(planned, course.at) for course in planned.problem.courses]
    )
    assert all(entry["dtstart"].dt.tzinfo is None for entry in found.values()), "times float"
    for entry in found.values():
        alarms = entry.walk("VALARM")
        assert alarms and alarms[0]["trigger"].dt < timedelta(0) and alarms[0]["action"] == "DISPLAY"
    carrots = next(entry for name, entry in found.items() if "roast carrots" in name)
    assert [alarm["trigger"].dt for alarm in carrots.walk("VALARM")] == [timedelta(minutes=-5), timedelta(minutes=12)]
    assert str(carrots["transp"]) == "TRANSPARENT"


@pytest.mark.parametrize("words", NASTY)
def test_every_calendar_can_be_read_back(words: str) -> None:
    data = timeline_ics(nasty(words))
    assert data.replace(b"\r\n", b"").count(b"\n") == 0, "lines end in CRLF alone"
    assert all(len(line) <= 75 for line in data.split(b"\r\n")), "RFC 5545, 3.1"
    found = entries(data)
    assert len(found) == len(entries(timeline_ics(lunch())))
    clean = re.sub("[\x00-\x08\x0e-\x1f\u202e]", "", words)
    whole = " ".join(clean.split())
    assert all(whole in str(entry["summary"]) for entry in found)
    assert not any("VALARM" in name for entry in found for name in entry)


def test_entries_keep_their_names_and_no_clock_is_in_them() -> None:
    planned = lunch()
    data = timeline_ics(planned)
    assert data == timeline_ics(lunch())
    names = [str(entry["uid"]) for entry in entries(data)]
    assert len(set(names)) == len(names)
    moved = replace(
        planned,
        plan=replace(
            planned.plan,
            placed=tuple(replace(one, start=one.start + 60, end=one.end + 60) for one in planned.plan.placed),
        ),
    )
    assert {str(entry["uid"]) for entry in entries(timeline_ics(moved))} == set(names)
    assert {entry["dtstamp"].dt.replace(tzinfo=None) for entry in entries(data)} == {datetime(2026, 1, 16)}


def test_an_impossible_plan_is_a_calendar_without_entries() -> None:
    assert entries(timeline_ics(impossible())) == []


# ---------------------------------------------------------------- lanes


def drawn(planned: Planned) -> tuple[Lanes, ...]:
    return lanes(Words(planned, run_sheet(planned), Style()))


def test_the_night_is_cut_out_and_no_strip_is_too_long() -> None:
    found = strips(lunch())
    assert [(part.start, part.end) for strip in found for part in strip.parts] == [
        (at("15:00", 0), at("19:15", 0)),
        (at("10:45"), at("14:30")),
    ]
    assert all(strip.seconds <= LONGEST_S for strip in found)


def test_a_long_day_is_several_strips_that_leave_nothing_out() -> None:
    planned = lunch()
    placed = (replace(planned.plan.placed[0], start=at("4:00", 0), end=at("14:20", 0)), *planned.plan.placed[1:])
    found = [
        part for strip in strips(replace(planned, plan=replace(planned.plan, placed=placed))) for part in strip.parts
    ]
    assert (found[0].start, max(part.end for part in found)) == (at("4:00", 0), at("14:30"))
    assert all(one.end <= other.start for one, other in pairwise(found))


def forms(found: tuple[Lanes, ...]) -> list[Drawing]:
    return [drawing for one in found for drawing in (one.wide, one.tall)]


@pytest.mark.parametrize("words", ["", *NASTY])
def test_no_words_run_out_of_a_drawing(words: str) -> None:
    for drawing in forms(drawn(nasty(words) if words else lunch())):
        for label in drawing.labels:
            long = wide(label.text)
            if label.turned:
                assert label.y + long <= drawing.height + 2, label
            else:
                left = label.x - {"start": 0, "middle": long / 2, "end": long}[label.anchor]
                assert left >= -12 and left + long <= drawing.width + 12, label


def test_letters_are_never_smaller_than_eleven_pixels() -> None:
    assert LETTERS >= 12
    assert "font-size: 12px" in style("lanes.css")
    # A tall drawing is 350 units wide; on a screen of 360 it has 328 pixels.
    assert all(drawing.width * 11 / LETTERS <= 328 for drawing in (one.tall for one in drawn(lunch())))
    assert "min-width: 322px" in style("timeline.css")


def test_what_takes_hands_what_is_within_reach_and_what_is_alone_differ_without_colour() -> None:
    sorts = {box.sort for drawing in forms(drawn(lunch())) for box in drawing.boxes}
    assert {"hands", "reach", "alone"} <= sorts
    assert not re.search(r"#(?!000000|ffffff|b5b5b5)[0-9a-f]{3,6}", style("lanes.css"))


def test_every_task_is_in_both_drawings_and_every_touch_a_tick() -> None:
    planned = lunch()
    for form in ("wide", "tall"):
        about = " ".join(box.about for one in drawn(planned) for box in getattr(one, form).boxes)
        for task in planned.problem.tasks:
            assert task.what in about
        ticks = [line for one in drawn(planned) for line in getattr(one, form).strokes if line.sort == "touch"]
        assert len(ticks) >= 2 * sum(len(task.touches) for task in planned.problem.tasks)
        flags = [label.text for one in drawn(planned) for label in getattr(one, form).labels if label.sort == "flag"]
        assert flags == ["Starter 13:00", "Main 13:40"]
        heats = [label.text for one in drawn(planned) for label in getattr(one, form).labels if label.sort == "heat"]
        assert heats == ["140 °C", "150 °C", "220 °C"]


@pytest.mark.parametrize("words", ["", *NASTY])
def test_a_drawing_by_itself_is_well_formed_and_fetches_nothing(words: str) -> None:
    data = timeline_svg(nasty(words) if words else lunch())
    root = ElementTree.fromstring(data)
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    assert not [one for one in root.iter() if one.tag.endswith("script")]
    text = data.decode("utf-8").replace("http://www.w3.org/2000/svg", "")
    assert "http" not in text and "url(#" in text and " style=" not in text


def test_an_impossible_plan_is_drawn_as_words() -> None:
    assert b"There is no plan" in timeline_svg(impossible())


# ---------------------------------------------------------------- pages


def desk_with(found: Planned | Unplanned, title: str = "Lunch at the mill") -> Desk:
    made = replace(book([]), events=(replace(event("lunch", title), courses=()),))
    return desk(Request(made, stocked(), plans=MappingProxyType({"lunch": found})))


def papers(found: Planned | Unplanned) -> dict[str, Paper]:
    return {paper.path.rsplit("/", 1)[1]: paper for paper in timelines(desk_with(found))}


def test_the_pages_of_a_planned_booking() -> None:
    found = papers(lunch())
    assert set(found) == {"timeline.html", "prep.html", "pull.html", "timeline.ics"}
    text = found["timeline.html"].data.decode("utf-8")
    assert text.count("<svg") == 4 and "Friday 16 January 2026" in text and "If they sit down late" in text
    assert " style=" not in text and "<script" not in text
    assert "vacuum flask" in found["pull.html"].data.decode("utf-8").split("In the kitchen")[0]


@pytest.mark.parametrize("words", NASTY)
def test_nothing_a_cook_writes_becomes_markup(words: str) -> None:
    for name, paper in papers(nasty(words)).items():
        if name.endswith("html"):
            text = paper.data.decode("utf-8")
            assert "<script" not in text and "<b title" not in text and "49" not in re.findall(r">(49)<", text)
            assert re.findall(r'id="([^"]+)"', text) == list(dict.fromkeys(re.findall(r'id="([^"]+)"', text)))


def test_a_booking_that_cannot_be_has_pages_that_say_so_and_no_calendar() -> None:
    found = papers(impossible())
    assert set(found) == {"timeline.html", "prep.html", "pull.html"}
    text = found["timeline.html"].data.decode("utf-8")
    assert "What collides" in text and "A second oven." in text and "<svg" not in text and "timeline.ics" not in text


def test_a_booking_without_a_timeline_says_why() -> None:
    found = papers(Unplanned("lunch", ("It does not say when it is served.",)))
    assert "It does not say when it is served." in found["timeline.html"].data.decode("utf-8")
    assert timelines(desk(Request(replace(book([]), events=(event(),)), stocked()))) == ()


def test_a_run_sheet_that_travels_alone_leads_nowhere() -> None:
    one = desk_with(lunch())
    text = timeline_page(one.request, one.book.events[0], lunch()).data.decode("utf-8")
    assert set(re.findall(r'href="([^"]+)"', text)) == {"#sheet", "#late", "#lanes"}
    assert "sha256-" in text and text.count("<style>") == 4


@pytest.mark.parametrize(
    ("units", "words"),
    [
        ((), "glass"),
        ((2,), "glass 2"),
        ((1, 3), "glass 1 and 3"),
        ((1, 2, 3, 4, 6), "glass 1–4 and 6"),
        ((1, 2), "glass 1 and 2"),
    ],
)
def test_pieces_in_a_row_are_a_span(units: tuple[int, ...], words: str) -> None:
    assert gear_name(OnGear("glass", "glass", units)).replace("\u00a0", " ") == words

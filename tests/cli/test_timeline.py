"""`recipec timeline` as a cook calls it, on the starter book."""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path
from xml.etree import ElementTree

import jsonschema  # type: ignore[import-untyped]
from icalendar import Calendar

from recipec.emit.json_papers import schema
from tests.cli.conftest import Run


def test_the_run_sheet_as_text(run: Run, book: Path) -> None:
    said = run("timeline", "friday-supper").out
    assert "FRIDAY 6 NOVEMBER 2026" in said and "▶ Starter on the pass" in said
    assert "PREP, FRIDAY" in said and "PULL LIST" in said and "Best possible, and proved so" in said
    assert all(len(line) <= 80 for line in said.splitlines())


def test_json_has_the_shape_that_is_shipped(run: Run, book: Path) -> None:
    found = json.loads(run("timeline", "friday-supper", "--format", "json").out)
    jsonschema.validate(found, json.loads(schema("timeline")))
    assert found["status"] == "best" and found["collisions"] == []
    times = [(datetime.fromisoformat(step["start"]), datetime.fromisoformat(step["end"])) for step in found["steps"]]
    assert times and all(start <= end for start, end in times)
    assert found["start"] == min(step["start"] for step in found["steps"])
    assert found["end"] == max(step["end"] for step in found["steps"])
    # Clearing down is no part of the span.
    work = [one for one, step in zip(times, found["steps"], strict=True) if step["work"] not in ("clear", "reserve")]
    assert found["span_s"] == (max(end for _, end in work) - min(start for start, _ in work)).total_seconds()
    plate = next(step for step in found["steps"] if step["work"] == "plate" or "Ladle" in step["text"])
    assert plate["end"] <= "2026-11-06T19:30:00"
    assert found["prep"][0]["board"][0]["dishes"][0]["how"] == "chopped"


def test_the_calendar_the_drawing_and_the_page_go_into_files(run: Run, book: Path) -> None:
    run("timeline", "friday-supper", "--format", "ics", "-o", "a.ics")
    assert len(list(Calendar.from_ical((book / "a.ics").read_bytes()).walk("VEVENT"))) >= 4
    run("timeline", "friday-supper", "--format", "svg", "-o", "a.svg")
    assert ElementTree.parse(book / "a.svg").getroot().tag.endswith("svg")
    run("timeline", "friday-supper", "--format", "html", "-o", "a.html")
    assert "By the clock" in (book / "a.html").read_text("utf-8")


def test_the_same_book_gives_the_same_bytes(run: Run, book: Path) -> None:
    for form in ("text", "json", "svg", "ics", "html"):
        assert (
            run("timeline", "friday-supper", "--format", form).out
            == run("timeline", "friday-supper", "--format", form).out
        )


def test_what_cannot_be_ends_with_exit_one_and_says_why(run: Run, book: Path) -> None:
    event = book / "friday-supper.event"
    event.write_text(
        event.read_text("utf-8").replace("kitchen: home", "kitchen: home\narrive: 2026-11-06 19:20"), "utf-8"
    )
    said = run("timeline", "friday-supper", code=1)
    assert "There is no plan that lands every course on time" in said.out
    assert "on the pass" not in said.out
    found = json.loads(run("timeline", "friday-supper", "--format", "json", code=1).out)
    jsonschema.validate(found, json.loads(schema("timeline")))
    assert found["status"] == "impossible" and found["steps"] == [] and found["collisions"]


def test_an_event_without_a_time_is_told_what_is_missing(run: Run, book: Path) -> None:
    event = book / "friday-supper.event"
    text = event.read_text("utf-8").replace("serve: 2026-11-06 19:30\n", "").replace(", <19:30>", "")
    event.write_text(text, "utf-8")
    said = run("timeline", "friday-supper", code=1)
    assert said.out == "" and said.err


def test_an_unknown_event_is_told_the_nearest(run: Run, book: Path) -> None:
    assert "friday-supper" in run("timeline", "friday-super", code=2).err


def test_help_shows_an_example(run: Run) -> None:
    assert "recipec timeline friday-supper --format ics" in run("timeline", "--help").out

"""`recipec guests` as a cook calls it, on the starter book."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema  # type: ignore[import-untyped]

from recipec.emit.json_papers import schema
from tests.cli.conftest import Run


def seat(book: Path, words: str) -> None:
    event = book / "friday-supper.event"
    event.write_text(event.read_text("utf-8").replace("\nserve:", f"\nseat 1: {words}\nserve:", 1), "utf-8")


def test_every_form(run: Run, book: Path) -> None:
    text = run("guests", "friday-supper").out
    assert text.startswith("Guests: ") and all(len(line) <= 80 for line in text.splitlines())
    assert json.loads(run("guests", "friday-supper", "--format", "json").out)["event"] == "friday-supper"
    assert run("guests", "friday-supper", "--format", "csv").out.startswith("\ufeffcourse,dish,")
    run("guests", "friday-supper", "--format", "html", "-o", "a.html")
    assert "What is in it" in (book / "a.html").read_text("utf-8")


def test_a_danger_is_told_and_ends_with_exit_one(run: Run, book: Path) -> None:
    seat(book, "allergic to celery")
    said = run("guests", "friday-supper", code=1).out
    assert "DANGER: Seat 1 is allergic to celery" in said
    found = json.loads(run("guests", "friday-supper", "--format", "json", code=1).out)
    assert any(finding["severity"] == "danger" for finding in found["findings"])


def test_an_error_stops_it(run: Run, book: Path) -> None:
    event = book / "friday-supper.event"
    event.write_text(event.read_text("utf-8") + "\n[our nonesuch dish]\n", "utf-8")
    assert "no-such-dish" in run("guests", "friday-supper", code=1).err


def test_a_name_nobody_knows(run: Run, book: Path) -> None:
    assert "no event here" in run("guests", "nothing", code=2).err


def test_the_papers_of_tubs_in_every_form(run: Run, book: Path) -> None:
    for paper, words in (("labels", "Labels: "), ("leftovers", "Leftovers: "), ("log", "Safety log: ")):
        text = run("guests", "friday-supper", "--paper", paper).out
        assert text.startswith(words) and all(len(line) <= 80 for line in text.splitlines())
        data = json.loads(run("guests", "friday-supper", "--paper", paper, "--format", "json").out)
        jsonschema.validate(data, json.loads(schema(paper)))
        page = run("guests", "friday-supper", "--paper", paper, "--format", "html").out
        assert page.startswith("<!DOCTYPE html>") and words.rstrip(": ") in page


def test_only_the_matrix_is_a_table(run: Run, book: Path) -> None:
    assert (
        "only matrix is written as csv"
        in run("guests", "friday-supper", "--paper", "log", "--format", "csv", code=2).err
    )

"""The watch, fed with scripted changes: no clock, no sleep."""

from __future__ import annotations

import shutil
import threading
from collections.abc import Iterable
from pathlib import Path

import pytest

from recipec.book.write import Written, write_papers
from recipec.watch import LONGEST_BATCH, Stopped, Watcher, disk_events

ROOT = Path("/book")
OUT = ROOT / "out"
QUIET = None


class Script:
    """Events in a fixed order; QUIET is a pause long enough to end a batch."""

    def __init__(self, steps: Iterable[Path | None]) -> None:
        self._steps = iter(steps)

    def wait(self, seconds: float | None) -> Path | None:
        for step in self._steps:
            if step is QUIET and seconds is None:
                continue  # waiting without end, a pause is nothing
            return step
        raise Stopped


def batches(*steps: Path | None, root: Path = ROOT, out: Path = OUT) -> list[tuple[str, ...]]:
    seen: list[tuple[str, ...]] = []
    Watcher(root, out, Script(steps), seen.append).run()
    return seen


def test_changes_close_together_are_one_build() -> None:
    a, b = ROOT / "a.dish", ROOT / "soups/b.dish"
    assert batches(b, a, a, QUIET, a, QUIET) == [("a.dish", "soups/b.dish"), ("a.dish",)]


def test_the_last_batch_counts_though_the_events_end_in_it() -> None:
    assert batches(ROOT / "a.dish") == [("a.dish",)]


@pytest.mark.parametrize(
    "path",
    [
        OUT,
        OUT / "index.html",
        OUT / "x.dish",
        ROOT / ".out.recipec-new/index.html",
        ROOT / ".git/HEAD",
        ROOT / ".a.dish.swp",
        ROOT / "notes.txt",
        Path("/elsewhere/a.dish"),
    ],
)
def test_what_is_not_the_books_builds_nothing(path: Path) -> None:
    assert batches(path, QUIET, path, QUIET) == []


@pytest.mark.parametrize(
    "name", ["a.dish", "x/b.event", "k.kitchen", "cookbook.toml", "prices.csv", "larder.csv", "soups"]
)
def test_what_is_the_books_builds(name: str) -> None:
    assert batches(ROOT / name, QUIET) == [(name,)]


def test_a_folder_that_was_replaced_builds() -> None:
    assert batches(ROOT, QUIET) == [(".",)]


def test_an_output_folder_elsewhere_does_not_hide_the_one_called_out() -> None:
    assert batches(ROOT / "out/a.dish", QUIET, out=Path("/elsewhere")) == [("out/a.dish",)]


def test_something_that_never_stops_writing_cannot_hold_up_the_build() -> None:
    seen = batches(*[ROOT / "a.dish"] * (LONGEST_BATCH + 5))
    assert len(seen) == 2


@pytest.mark.slow
def test_real_changes_on_the_disk_arrive(tmp_path: Path) -> None:
    """The only test with the real observer: waits on what it is told, with a limit only against hanging for ever."""
    root = tmp_path / "book"
    root.mkdir()
    told: set[str] = set()
    arrived = {name: threading.Event() for name in ("a.dish", "soups", "b.dish", "soups/c.dish", "d.dish")}

    def rebuild(names: tuple[str, ...]) -> None:
        told.update(names)
        for name in names:
            if name in arrived:
                arrived[name].set()

    class Until:
        """The real events, until the test is done."""

        def __init__(self, events: object) -> None:
            self.events = events
            self.done = threading.Event()

        def wait(self, seconds: float | None) -> Path | None:
            while not self.done.is_set():
                path: Path | None = self.events.wait(0.05 if seconds is None else seconds)  # type: ignore[attr-defined]
                if path is not None or seconds is not None:
                    return path
            raise Stopped

    with disk_events(root) as events:
        until = Until(events)
        runner = threading.Thread(target=Watcher(root, root / "out", until, rebuild).run)
        runner.start()
        try:
            (root / "notes.txt").write_text("x")
            (root / "a.dish").write_text("Soup\n")
            assert arrived["a.dish"].wait(30)
            (root / "soups").mkdir()
            assert arrived["soups"].wait(30)
            (root / "x").write_text("x")
            (root / "x").rename(root / "b.dish")
            assert arrived["b.dish"].wait(30)
            # The build swaps its whole folder for a new one beside the sources, again and again.
            for number in range(4):
                done = write_papers({"dishes/soup.html": str(number).encode(), f"n{number}.html": b""}, root / "out")
                assert isinstance(done, Written)
            (root / "soups" / "c.dish").write_text("Broth\n")
            assert arrived["soups/c.dish"].wait(30)
            shutil.rmtree(root / "out")
            shutil.rmtree(root / "soups")
            (root / "d.dish").write_text("Tea\n")
            assert arrived["d.dish"].wait(30)
        finally:
            until.done.set()
            runner.join(30)
    assert not runner.is_alive()
    assert "notes.txt" not in told
    assert not any(name.startswith("out") for name in told)

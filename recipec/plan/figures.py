"""The plan's own tables of figures, each with its provenance. They are ours, so a fault in them is a bug and raises."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

_DATA = Path(__file__).with_name("data")


def rows(name: str) -> Iterator[list[str]]:
    """The rows of a table, without remarks and heading, each cell as text."""
    lines = (_DATA / name).read_text(encoding="utf-8").splitlines()
    cells = [line.split("\t") for line in lines if line and not line.startswith("#")]
    yield from cells[1:]

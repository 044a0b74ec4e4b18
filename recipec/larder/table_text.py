"""The built-in tables as text: rows of cells, and numbers exactly as written."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

_DATA = Path(__file__).with_name("data")


def rows(name: str) -> Iterator[list[str]]:
    """The rows of a table, without remarks and heading, each cell as text."""
    lines = (_DATA / name).read_text(encoding="utf-8").splitlines()
    width = 0
    for line in lines:
        if not line or line.startswith("#"):
            continue
        cells = line.split("\t")
        if width:
            yield cells + [""] * (width - len(cells))
        else:
            width = len(cells)


def number(text: str) -> Fraction:
    """A plain decimal as written in a table, exactly."""
    whole, _, decimals = text.partition(".")
    return Fraction(int(whole + decimals), 10 ** len(decimals))

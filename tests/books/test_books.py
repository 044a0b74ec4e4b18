"""Whole builds against what is expected of them; `--update` rewrites."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.harness import BOOKS, check_book

CASES = sorted(path.parent.name for path in BOOKS.glob("*/src"))


@pytest.mark.parametrize("case", CASES)
def test_book(case: str, tmp_path: Path, update: bool) -> None:
    check_book(case, tmp_path / "out", update=update)


def test_there_are_cases() -> None:
    assert len(CASES) >= 4

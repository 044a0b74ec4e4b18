"""A small book of our own, and the command called in this process."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import pytest

from recipec.book.start import start_book
from recipec.cli.main import run as run_words


class Said(NamedTuple):
    """What a command wrote."""

    out: str
    err: str


Run = Callable[..., Said]


@pytest.fixture
def book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The starter book, with the cook standing in it."""
    folder = tmp_path / "book"
    start_book(folder)
    monkeypatch.chdir(folder)
    return folder


@pytest.fixture
def run(capsysbinary: pytest.CaptureFixture[bytes]) -> Run:
    """Calls `recipec` with these words; the exit code must be as said."""

    def call(*words: str, code: int = 0) -> Said:
        capsysbinary.readouterr()
        got = run_words(list(words))
        said = Said(*(data.decode("utf-8") for data in capsysbinary.readouterr()))
        assert got == code, f"{words}\n{said.out}\n{said.err}"
        assert "Traceback" not in said.out + said.err
        return said

    return call

"""What an emitter is given, and what it gives back."""

from __future__ import annotations

from dataclasses import dataclass

from recipec.base.finding import Finding
from recipec.larder.larder import Larder
from recipec.model.book import Book


@dataclass(frozen=True, slots=True)
class Paper:
    """One file of the output: `path` relative, with forward slashes, inside the output folder; `data` its bytes."""

    path: str
    data: bytes


@dataclass(frozen=True, slots=True)
class Request:
    """A checked book to be put on paper. `findings` are all of them; papers print those dangers a cook has accepted."""

    book: Book
    larder: Larder
    findings: tuple[Finding, ...] = ()

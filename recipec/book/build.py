"""A whole build: compile, put on paper, write."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import NamedTuple, TypeAlias

from recipec.base.finding import Finding, Severity
from recipec.book.compile import Build
from recipec.book.write import Refused, Written, write_papers


class Faulty(NamedTuple):
    """Nothing was written, since so many findings stand against it. What was written before stays as it is."""

    number: int


Outcome: TypeAlias = Written | Refused | Faulty


def against(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Errors, and dangers nobody has accepted: with one of these no paper is right."""
    return tuple(
        finding
        for finding in findings
        if finding.severity is Severity.ERROR or (finding.severity is Severity.DANGER and finding.accepted is None)
    )


def write_build(build: Build, out: Path) -> Outcome:
    """Every paper of a compiled book into `out`; nothing when an error or an open danger stands against it.

    A paper made from half a dish could leave out an ingredient, and with it an allergen.
    """
    faults = against(build.findings)
    if faults:
        return Faulty(len(faults))
    from recipec.emit.paper import Request, emit_book

    papers = emit_book(Request(build.book, build.larder, build.findings))
    return write_papers({paper.path: paper.data for paper in papers}, out)

"""A whole build: compile, put on paper, write."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple, TypeAlias

from recipec.book.compile import Build, against
from recipec.book.write import Refused, Written, write_papers


class Faulty(NamedTuple):
    """Nothing was written, since so many findings stand against it. What was written before stays as it is."""

    number: int


Outcome: TypeAlias = Written | Refused | Faulty


def write_build(build: Build, out: Path) -> Outcome:
    """Every paper of a compiled book into `out`; nothing when an error or an open danger stands against it.

    A paper made from half a dish could leave out an ingredient, and with it an allergen.
    """
    faults = against(build.findings)
    if faults:
        return Faulty(len(faults))
    from recipec.book.photos import read_photos
    from recipec.book.timeline import planned_events
    from recipec.emit.paper import Request, emit_book

    plans = planned_events(build)
    papers = emit_book(Request(build.book, build.larder, build.findings, read_photos(build), plans))
    return write_papers({paper.path: paper.data for paper in papers}, out)

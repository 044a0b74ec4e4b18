"""A whole build: compile, put on paper, write."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple, TypeAlias

from recipec.book.compile import Build, against
from recipec.book.write import Refused, Written, write_papers
from recipec.model.event import Event

if TYPE_CHECKING:
    from recipec.book.timeline import Plans
    from recipec.emit.request import Request


class Faulty(NamedTuple):
    """Nothing was written, since so many findings stand against it. What was written before stays as it is."""

    number: int


Outcome: TypeAlias = Written | Refused | Faulty


def write_build(build: Build, out: Path, plans: Plans | None = None, *, pdf: bool = True) -> Outcome:
    """Every paper of a compiled book into `out`; nothing when an error or an open danger stands against it.

    A paper made from half a dish could leave out an ingredient, and with it an allergen. `plans` are those of
    `recipec.book.timeline.with_plans`, where the caller has them; what they bring to light counts here too. Without `pdf` there are pages
    only.
    """
    from recipec.book.timeline import with_plans

    if plans is None:
        build, plans = with_plans(build)
    faults = against(build.findings)
    if faults:
        return Faulty(len(faults))
    from recipec.book.photos import read_photos
    from recipec.emit.paper import Request

    return _written(Request(build.book, build.larder, build.findings, read_photos(build), plans), out, pdf)


def write_client_copy(build: Build, event: Event, plates: int, out: Path, *, pdf: bool = True) -> Outcome:
    """The copy for the client of an event into `out`; nothing when an error or an open danger stands against the book."""
    faults = against(build.findings)
    if faults:
        return Faulty(len(faults))
    from recipec.book.photos import read_photos
    from recipec.emit.paper import Request
    from recipec.plan.client_copy import client_copy, client_findings

    copy = client_copy(build.book, build.larder, event, plates)
    photos = {key: photo for key, photo in read_photos(build).items() if copy.book.dish(key) is not None}
    findings = client_findings(build.findings)
    request = Request(copy.book, build.larder, findings, photos, portions=copy.portions, client=True)
    return _written(request, out, pdf)


def _written(request: Request, out: Path, pdf: bool) -> Outcome:
    from recipec.book.prints import print_store
    from recipec.emit.paper import emit_book

    store = print_store()
    papers = emit_book(request, store.pdf if pdf else None)
    written = write_papers({paper.path: paper.data for paper in papers}, out)
    store.tidy()
    return written

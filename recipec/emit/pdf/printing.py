"""The PDFs of a book beside its pages."""

from __future__ import annotations

from collections.abc import Iterable

from recipec.emit.desk import Desk
from recipec.emit.pdf.press import SetType, job
from recipec.emit.pdf.whole_book import BOOK, book_job
from recipec.emit.request import Paper


def prints(desk: Desk, papers: Iterable[Paper], pdf: SetType) -> tuple[Paper, ...]:
    """A PDF for every page that is printed, under the page's own name, and the whole book. `pdf` sets type, or has it set already."""
    found = []
    for paper in papers:
        work = None if paper.form is None else job(paper.form)
        if work is not None:
            found.append(Paper(paper.path.removesuffix(".html") + ".pdf", pdf(work)))
    return (*found, Paper(BOOK, pdf(book_job(desk))))

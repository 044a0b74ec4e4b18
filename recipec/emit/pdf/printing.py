"""The PDFs of a book beside its pages."""

from __future__ import annotations

from collections.abc import Iterable

from recipec.emit.desk import Desk
from recipec.emit.pdf.press import SetType, job
from recipec.emit.pdf.whole_book import BOOK, book_job
from recipec.emit.request import Paper


def prints(desk: Desk, papers: Iterable[Paper], pdf: SetType) -> tuple[Paper, ...]:
    """A PDF for every page that is printed, under the page's own name, and the whole book. `pdf` sets type, or has it set already."""
    works = [(paper.path, job(paper.form)) for paper in papers if paper.form is not None]
    named = [(path.removesuffix(".html") + ".pdf", work) for path, work in works if work is not None]
    named.append((BOOK, book_job(desk)))
    return tuple(Paper(path, pdf(work)) for path, work in named)

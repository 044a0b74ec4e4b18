"""PDFs, kept from one run to the next, so that a rebuild sets only what changed.

They lie in the cache folder of `cache.py`, a file a PDF, named by the mark of its job: typst, the templates, the faces and the data it
is set from. What is kept is believed only when it has the digest that was written with it.
"""

from __future__ import annotations

import contextlib
from pathlib import Path
from typing import TYPE_CHECKING

from recipec.book.cache import cache_folder
from recipec.book.kept_file import let_go, read_kept, write_kept

if TYPE_CHECKING:
    from recipec.emit.pdf.press import Job

_MAGIC = b"recipec print 1\n"
_MOST = 4_000
"""PDFs kept, of all books together; those longest unused go first."""


class PrintStore:
    """PDFs by their job. `folder` None keeps nothing. Never raises for anything wrong with the folder or a file in it."""

    def __init__(self, folder: Path | None) -> None:
        self._folder = folder
        self._kept = 0

    def pdf(self, job: Job) -> bytes:
        """The PDF of a job: the one kept, else a fresh one, which is kept then."""
        from recipec.emit.pdf.press import set_type

        if self._folder is None:
            return set_type(job)
        path = self._folder / f"{job.mark()[:40]}.print"
        found = read_kept(path, _MAGIC)
        if found is not None:
            return found
        made = set_type(job)
        with contextlib.suppress(OSError):
            write_kept(path, _MAGIC, made)
            self._kept += 1
        return made

    def tidy(self) -> None:
        """Lets the oldest go, where this store has kept anything and there are too many."""
        if self._folder is None or not self._kept:
            return
        with contextlib.suppress(OSError):
            let_go(self._folder, "*.print", _MOST)


def print_store() -> PrintStore:
    """The store in the user's cache folder; one that keeps nothing when RECIPEC_CACHE says `off`."""
    folder = cache_folder()
    return PrintStore(None if folder is None else folder / "prints")

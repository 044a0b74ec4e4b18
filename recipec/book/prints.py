"""PDFs, kept from one run to the next, so that a rebuild sets only what changed.

They lie in the cache folder of `cache.py`, a file a PDF, named by the mark of its job: typst, the templates, the faces and the data it
is set from. What is kept is believed only when it has the digest that was written with it.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

from recipec.book.cache import cache_folder

if TYPE_CHECKING:
    from recipec.emit.pdf.press import Job

_MAGIC = b"recipec print 1\n"
_DIGEST = 32
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
        found = _read(path)
        if found is not None:
            return found
        made = set_type(job)
        with contextlib.suppress(OSError):
            _write(path, made)
            self._kept += 1
        return made

    def tidy(self) -> None:
        """Lets the oldest go, where this store has kept anything and there are too many."""
        if self._folder is None or not self._kept:
            return
        with contextlib.suppress(OSError):
            kept = sorted(self._folder.glob("*.print"), key=lambda one: one.stat().st_mtime_ns)
            for old in kept[: max(len(kept) - _MOST, 0)]:
                old.unlink(missing_ok=True)


def print_store() -> PrintStore:
    """The store in the user's cache folder; one that keeps nothing when RECIPEC_CACHE says `off`."""
    folder = cache_folder()
    return PrintStore(None if folder is None else folder / "prints")


def _read(path: Path) -> bytes | None:
    try:
        data = path.read_bytes()
        body = data[len(_MAGIC) + _DIGEST :]
        if data[: len(_MAGIC) + _DIGEST] != _MAGIC + hashlib.sha256(body).digest():
            return None
        os.utime(path)
    except OSError:
        return None
    return body


def _write(path: Path, body: bytes) -> None:
    path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    handle, name = tempfile.mkstemp(prefix=".print.", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as out:
            out.write(_MAGIC + hashlib.sha256(body).digest() + body)
        Path(name).replace(path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise

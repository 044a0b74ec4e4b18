"""A file of the cache with a digest of its body, which is believed only when that is right. For plans and PDFs."""

from __future__ import annotations

import hashlib
import os
import tempfile
from pathlib import Path

_DIGEST = 32


def read_kept(path: Path, magic: bytes) -> bytes | None:
    """The body of a file that begins with `magic`; None when there is none, or it is not as it was written. Marks it as used."""
    try:
        data = path.read_bytes()
        head, body = data[: len(magic) + _DIGEST], data[len(magic) + _DIGEST :]
        if head != magic + hashlib.sha256(body).digest():
            return None
        os.utime(path)
    except OSError:
        return None
    return body


def write_kept(path: Path, magic: bytes, body: bytes) -> None:
    """Writes it whole or not at all, for this user alone. Raises OSError."""
    path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    handle, name = tempfile.mkstemp(prefix=f"{path.suffix}.", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as out:
            out.write(magic + hashlib.sha256(body).digest() + body)
        Path(name).replace(path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def let_go(folder: Path, pattern: str, most: int) -> None:
    """Lets those longest unused go, where there are more than `most`. Raises OSError."""
    kept = sorted(folder.glob(pattern), key=lambda one: one.stat().st_mtime_ns)
    for old in kept[: max(len(kept) - most, 0)]:
        old.unlink(missing_ok=True)

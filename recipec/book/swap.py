"""Two folders change names in one step, where the system can do that."""

from __future__ import annotations

import os
import shutil
import sys
from pathlib import Path

_AT_FDCWD = -100
_RENAME_EXCHANGE = 2  # linux/fs.h


def exchange(new: Path, place: Path) -> None:
    """Put `new` where `place` is. What was there stands at `new` afterwards; OSError when it could not be done at all.

    On Linux one system call does it. Elsewhere, and on file systems without that call, the old folder steps aside first;
    `restore` mends what an interruption between the two renames leaves.
    """
    if not place.exists():
        new.rename(place)
        return
    if _exchanged(new, place):
        return
    aside = aside_of(place)
    place.rename(aside)
    try:
        new.rename(place)
    except OSError:
        aside.rename(place)
        raise
    aside.rename(new)


def restore(place: Path) -> None:
    """Mend what a build leaves that was killed between the renames: the old folder back, or gone when the new one stands."""
    aside = aside_of(place)
    if not aside.is_dir():
        return
    if place.exists():
        shutil.rmtree(aside)
    else:
        aside.rename(place)


def aside_of(place: Path) -> Path:
    """Where a folder stands while the new one takes its place, on systems that need two renames."""
    return place.with_name(f".{place.name}.recipec-old")


def _exchanged(new: Path, place: Path) -> bool:
    if sys.platform != "linux":
        return False
    import ctypes

    try:
        rename = ctypes.CDLL(None, use_errno=True).renameat2
    except (OSError, AttributeError):
        return False
    done: int = rename(_AT_FDCWD, os.fsencode(new), _AT_FDCWD, os.fsencode(place), _RENAME_EXCHANGE)
    return done == 0

"""Puts papers into the output folder: all or nothing, only what changed, and nothing that is not recipec's own.

The whole new folder is made beside the old one (`.<name>.recipec-new`), unchanged files as hard links, then the two
change names in one step. What a build wrote is listed in the folder's manifest, so that a later build removes its own
stale files and no others.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import shutil
import stat
import tempfile
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import NamedTuple

from recipec.book.files import LARDER, MANIFEST, PRICES, SETTINGS, kind_of
from recipec.book.swap import aside_of, exchange, restore

_NEVER_IN_A_NAME = frozenset('<>:"|?*\\\0')


class Written(NamedTuple):
    """How many files were written, removed, and left as they were."""

    written: int
    removed: int
    unchanged: int


class Refused(NamedTuple):
    """Nothing was written, and why: one sentence for a person, then what to do."""

    message: str
    hint: str


class _Folder(NamedTuple):
    """What lies in the output folder, by path with forward slashes; links are kept as links."""

    files: frozenset[str]
    links: frozenset[str]
    folders: frozenset[str]


class _Plan(NamedTuple):
    there: _Folder
    changed: frozenset[str]
    stale: frozenset[str]
    listed: Mapping[str, str]
    idle: bool


def write_papers(papers: Mapping[str, bytes], out: Path) -> Written | Refused:
    """Make `out` hold exactly these papers, beside whatever in it is not recipec's.

    `papers` maps relative paths with forward slashes to bytes; a path that leaves the folder is a ValueError, since no
    cook's text can make one. Interrupted at any instant, `out` holds the old files or the new.
    """
    for path in papers:
        _hold_inside(path)
    out = Path(os.path.realpath(out))
    try:
        plan = _plan(papers, out)
        if isinstance(plan, Refused):
            return plan
        if plan.idle and not (staging_of(out).exists() or aside_of(out).exists()):
            return Written(0, 0, len(papers))
        out.parent.mkdir(parents=True, exist_ok=True)
        with _staging(out) as staging:
            if staging is None:
                return Refused(
                    f"Another build is writing into {out.name} at this moment.", "Run it again when that one is done."
                )
            restore(out)
            # What was seen before the lock may have changed.
            plan = _plan(papers, out)
            if isinstance(plan, Refused):
                return plan
            if not plan.idle:
                _stage(papers, plan, out, staging)
                exchange(staging, out)
            return Written(len(plan.changed), len(plan.stale), len(papers) - len(plan.changed))
    except OSError as problem:
        why = (problem.strerror or "the system refused it").lower()
        return Refused(f"The folder {out.name} can't be written: {why}.", "What it held is unchanged.")


def write_file(path: Path, data: bytes) -> Refused | None:
    """One file, whole or not at all; never over a source."""
    path = Path(os.path.realpath(path))
    if kind_of(path.name) is not None or path.name in (SETTINGS, PRICES, LARDER):
        return Refused(f"{path.name} is the source of a book, so it is not written over.", "Choose another name.")
    try:
        handle, name = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(data)
            _as_usual(Path(name), path)
            Path(name).replace(path)
        except BaseException:
            Path(name).unlink(missing_ok=True)
            raise
    except OSError as problem:
        why = (problem.strerror or "the system refused it").lower()
        return Refused(f"{path.name} can't be written: {why}.", "Choose another place.")
    return None


def _as_usual(new: Path, old: Path) -> None:
    """The mode an ordinary file would have: that of the one it replaces, or what the user's mask leaves."""
    if old.exists():
        shutil.copymode(old, new)
    else:
        mask = os.umask(0)
        os.umask(mask)
        new.chmod(0o666 & ~mask)


def _plan(papers: Mapping[str, bytes], out: Path) -> _Plan | Refused:
    there = _look(out)
    if isinstance(there, Refused):
        return there
    mine = _manifest(out)
    refusal = _collision(papers, out, there, mine)
    if refusal is not None:
        return refusal
    changed = frozenset(path for path, data in papers.items() if path not in there.files or not _same(out / path, data))
    stale = frozenset(
        path for path in mine.keys() - papers.keys() if path in there.files and _digest(out / path) == mine[path]
    )
    listed = {path: hashlib.sha256(data).hexdigest() for path, data in papers.items()}
    return _Plan(there, changed, stale, listed, idle=not changed and not stale and mine == listed)


def _stage(papers: Mapping[str, bytes], plan: _Plan, out: Path, staging: Path) -> None:
    there, changed, stale = plan.there, plan.changed, plan.stale
    kept = there.files - changed - stale - {MANIFEST}
    emptied = {parent for path in stale for parent in _parents(path)}
    wanted = {parent for path in kept | changed | there.links for parent in _parents(path)}
    # A folder of the cook's own stays though it is empty; one that only stale files kept does not.
    for folder in sorted(wanted | (there.folders - emptied)):
        (staging / folder).mkdir()
    if there.folders or there.files:
        shutil.copymode(out, staging)
    for path in sorted(kept):
        _link(out / path, staging / path)
    for path in sorted(there.links):
        (staging / path).symlink_to((out / path).readlink())
    for path in sorted(changed):
        (staging / path).write_bytes(papers[path])
    (staging / MANIFEST).write_bytes(_manifest_bytes(plan.listed))


def _look(out: Path) -> _Folder | Refused:
    if not out.exists():
        return _Folder(frozenset(), frozenset(), frozenset())
    if not out.is_dir():
        return Refused(f"{out.name} is a file, and the book needs a folder.", "Choose another with -o.")
    files: set[str] = set()
    links: set[str] = set()
    folders: set[str] = set()
    waiting = [""]
    while waiting:
        folder = waiting.pop()
        with os.scandir(out / folder) as found:
            for entry in found:
                path = f"{folder}/{entry.name}" if folder else entry.name
                if entry.is_symlink():
                    links.add(path)
                elif entry.is_dir(follow_symlinks=False):
                    folders.add(path)
                    waiting.append(path)
                elif stat.S_ISREG(entry.stat(follow_symlinks=False).st_mode):
                    files.add(path)
                else:
                    return Refused(f"{out.name} holds {path}, which is no ordinary file.", "Choose another with -o.")
    for path in sorted(files | links):
        if kind_of(path) is not None or path.rsplit("/", 1)[-1] == SETTINGS:
            return Refused(
                f"{out.name} holds {path}, which is the source of a book, so nothing is written there.",
                "Choose a folder of its own with -o.",
            )
    return _Folder(frozenset(files), frozenset(links), frozenset(folders))


def _collision(papers: Mapping[str, bytes], out: Path, there: _Folder, mine: Mapping[str, str]) -> Refused | None:
    def untouched(path: str) -> bool:
        return path in there.files and mine.get(path) == _digest(out / path)

    everything = there.files | there.links
    for path in sorted(papers):
        in_the_way = [parent for parent in _parents(path) if parent in everything and not untouched(parent)]
        # A folder whose every file is an untouched paper of before makes room; any other stays.
        inside = [file for file in everything if file.startswith(f"{path}/")] if path in there.folders else []
        if path in there.links or not all(map(untouched, inside)):
            in_the_way.append(path)
        if path in there.files and path not in mine and not _same(out / path, papers[path]):
            in_the_way.append(path)
        if in_the_way:
            return Refused(
                f"{out.name} already holds {in_the_way[0]}, which no earlier build wrote, so nothing is written there.",
                "Move that file away, or choose another folder with -o.",
            )
    return None


def _hold_inside(path: str) -> None:
    parts = path.split("/")
    if path == MANIFEST or any(part in ("", ".", "..") or _NEVER_IN_A_NAME & set(part) for part in parts):
        raise ValueError(f"a paper may not be written to {path!r}")


def _parents(path: str) -> list[str]:
    parts = path.split("/")[:-1]
    return ["/".join(parts[: number + 1]) for number in range(len(parts))]


def _same(path: Path, data: bytes) -> bool:
    return path.stat().st_size == len(data) and path.read_bytes() == data


def _digest(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def _link(source: Path, target: Path) -> None:
    try:
        os.link(source, target, follow_symlinks=False)
    except OSError:  # a disk that has no hard links
        shutil.copy2(source, target, follow_symlinks=False)


def _manifest(out: Path) -> Mapping[str, str]:
    """Path → SHA-256 of what earlier builds wrote; empty when there is no manifest that can be read."""
    try:
        data = json.loads((out / MANIFEST).read_bytes())
        files = data["files"]
        return {str(path): str(digest) for path, digest in files.items()}
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return {}


def _manifest_bytes(listed: Mapping[str, str]) -> bytes:
    return (json.dumps({"files": listed}, ensure_ascii=False, indent=0, sort_keys=True) + "\n").encode("utf-8")


def staging_of(out: Path) -> Path:
    """Where the new folder is made. It is there only during a build, or after one that was killed."""
    return out.with_name(f".{out.name}.recipec-new")


@contextlib.contextmanager
def _staging(out: Path) -> Iterator[Path | None]:
    """An empty folder beside `out` that is this build's alone, gone afterwards; None when another build holds it."""
    staging = staging_of(out)
    with contextlib.ExitStack() as held:
        if not _lock(staging, held):
            yield None
            return
        # After the exchange the old book stands here; before it, half of a new one. Neither is wanted.
        held.callback(shutil.rmtree, staging, ignore_errors=True)
        _empty(staging)  # what a build that was killed has left
        yield staging


def _lock(staging: Path, held: contextlib.ExitStack) -> bool:
    """Make the folder and lock it until `held` closes; False when another process has it."""
    try:
        import fcntl
    except ImportError:  # a system without such locks; two builds at once are then the cook's to avoid
        staging.mkdir(exist_ok=True)
        return True
    while True:
        staging.mkdir(exist_ok=True)
        try:
            handle = os.open(staging, os.O_RDONLY)
        except FileNotFoundError:  # the build that held it has just removed it
            continue
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            os.close(handle)
            return False
        # The folder that was opened may have become the output folder, or gone, since.
        with contextlib.suppress(FileNotFoundError):
            if os.path.samestat(os.fstat(handle), staging.stat()):
                held.callback(os.close, handle)
                return True
        os.close(handle)


def _empty(folder: Path) -> None:
    for entry in folder.iterdir():
        if entry.is_dir() and not entry.is_symlink():
            shutil.rmtree(entry)
        else:
            entry.unlink()

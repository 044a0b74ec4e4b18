"""Builds again whenever a file of the book changes, and goes on whatever is in the files.

`Watcher` is the whole of the behaviour; where its events come from is handed in. `disk_events` is the real thing.
"""

from __future__ import annotations

import contextlib
import os
import queue
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from recipec.book.files import concerns, list_book

if TYPE_CHECKING:
    from watchdog.events import FileSystemEventHandler
    from watchdog.observers.api import BaseObserver, ObservedWatch

QUIET_S = 0.15
"""A batch ends when nothing has changed for so long: an editor saves in several strokes."""
LONGEST_BATCH = 10_000
"""Changes. A batch ends here at the latest, so that something that never stops writing can't hold up every build."""
LOOK_S = 2.0
"""How often a quiet watch looks whether its folder is still the same one."""


class Stopped(Exception):
    """The source of events has ended."""


class Events(Protocol):
    """Where changes come from."""

    def wait(self, seconds: float | None) -> Path | None:
        """The next changed path; None when nothing changed for `seconds`. Raises Stopped at the end."""


class Watcher:
    """Turns changes below `root` into calls of `rebuild`, one for each batch that touches the book.

    What lies in `out` is the build's own doing and never counts.
    """

    def __init__(self, root: Path, out: Path, events: Events, rebuild: Callable[[tuple[str, ...]], None]) -> None:
        self._root = root
        self._out = out
        self._events = events
        self._rebuild = rebuild

    def run(self) -> None:
        """Until the events end. `rebuild` is called with the names that changed, relative to the book, sorted."""
        with contextlib.suppress(Stopped):
            while True:
                names = self._batch()
                if names:
                    self._rebuild(names)

    def _batch(self) -> tuple[str, ...]:
        names: set[str] = set()
        ended = False
        path = self._events.wait(None)
        for _ in range(LONGEST_BATCH):
            if path is None:
                break
            name = self._name(path)
            if name is not None:
                names.add(name)
            try:
                path = self._events.wait(QUIET_S)
            except Stopped:
                ended = True
                break
        if ended and not names:
            raise Stopped
        return tuple(sorted(names))

    def _name(self, path: Path) -> str | None:
        if path == self._root:
            return "."
        if path == self._out or not path.is_relative_to(self._root) or path.is_relative_to(self._out):
            return None
        name = path.relative_to(self._root).as_posix()
        return name if concerns(name) else None


class _Disk:
    """watchdog's threads over the folders of one book, each watched by itself.

    A recursive watch would follow the build's own folder too, and its swapping for a new one upsets the system's watches. So only
    the folders that a build reads are watched, and looked through again whenever one comes or goes.
    """

    def __init__(self, root: Path) -> None:
        self._root = root
        self._paths: queue.SimpleQueue[Path] = queue.SimpleQueue()
        self._observer: BaseObserver | None = None
        self._watches: dict[Path, ObservedWatch] = {}
        self._identities: dict[Path, tuple[int, int] | None] = {}
        self._stale = False

    def begin(self) -> None:
        """Start threads of its own, over the folders there are now."""
        from watchdog.observers import Observer

        self._observer = Observer()
        self._observer.start()
        self._watches = {}
        self._identities = {}
        self._look()

    def end(self) -> None:
        """Stop the threads."""
        if self._observer is not None:
            self._observer.stop()
            self._observer.join()

    def wait(self, seconds: float | None) -> Path | None:
        """As `Events` says. A quiet watch looks now and then whether its folders and threads are still the same."""
        while True:
            try:
                path = self._paths.get(timeout=LOOK_S if seconds is None else seconds)
            except queue.Empty:
                if seconds is not None:
                    return None
                if self._renew():
                    return self._root
                continue
            if self._stale:
                self._stale = False
                if self._look():
                    # What was written into a new folder before it was watched has made no event of its own.
                    self._paths.put(self._root)
            return path

    def note(self, paths: Iterable[Path], folder: bool) -> None:
        """Called from watchdog's threads."""
        if folder:
            self._stale = True
        for path in paths:
            self._paths.put(path)

    def _renew(self) -> bool:
        observer = self._observer
        alive = observer is not None and observer.is_alive() and all(e.is_alive() for e in observer.emitters)
        if not alive:
            self.end()
            self.begin()
            return True
        return self._look()

    def _look(self) -> bool:
        """Watch the folders that are there now; whether any came, went or was replaced."""
        assert self._observer is not None
        folders = {self._root / name for name in list_book(self._root, {}).folders}
        now = {folder: identity for folder in folders if (identity := _identity(folder)) is not None}
        if now == self._identities:
            return False
        changed = [folder for folder in {*now, *self._identities} if now.get(folder) != self._identities.get(folder)]
        for folder in changed:
            watch = self._watches.pop(folder, None)
            if watch is not None:
                with contextlib.suppress(KeyError, OSError):
                    self._observer.unschedule(watch)
            if folder in now:
                with contextlib.suppress(OSError):
                    self._watches[folder] = self._observer.schedule(self._handler(), str(folder), recursive=False)
        self._identities = dict(now)
        return True

    def _handler(self) -> FileSystemEventHandler:
        from watchdog.events import FileSystemEvent, FileSystemEventHandler

        note = self.note

        class Handler(FileSystemEventHandler):
            def on_any_event(self, event: FileSystemEvent) -> None:
                # Reading a file is no change, and the build itself reads them all; a folder is modified by what has its own event.
                if event.event_type in ("opened", "closed_no_write"):
                    return
                if event.is_directory and event.event_type == "modified":
                    return
                names = (event.src_path, event.dest_path)
                note([Path(os.fsdecode(name)) for name in names if name], event.is_directory)

        return Handler()


def _identity(folder: Path) -> tuple[int, int] | None:
    try:
        state = folder.stat()
    except OSError:
        return None
    return (state.st_dev, state.st_ino)


@contextlib.contextmanager
def disk_events(root: Path) -> Iterator[Events]:
    """Changes on the disk in the folders of the book at `root`, until the block is left."""
    disk = _Disk(root)
    disk.begin()
    try:
        yield disk
    finally:
        disk.end()

"""Builds again whenever a file of the book changes, and goes on whatever is in the files.

`Watcher` is the whole of the behaviour; where its events come from is handed in. `disk_events` is the real thing.
"""

from __future__ import annotations

import contextlib
import os
import queue
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Protocol

from recipec.book.files import concerns

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


class _Queued:
    """Paths from watchdog's thread, and a look now and then whether the book's folder was replaced."""

    def __init__(self, root: Path, paths: queue.SimpleQueue[Path], begin: Callable[[], None]) -> None:
        self._root = root
        self._paths = paths
        self._begin = begin
        self._identity = _identity(root)

    def wait(self, seconds: float | None) -> Path | None:
        while True:
            try:
                return self._paths.get(timeout=LOOK_S if seconds is None else seconds)
            except queue.Empty:
                if seconds is not None:
                    return None
            # The system drops its watch with a deleted folder; one of the same name later needs a new watch.
            now = _identity(self._root)
            if now != self._identity:
                self._identity = now
                if now is not None:
                    self._begin()
                return self._root


def _identity(folder: Path) -> tuple[int, int] | None:
    try:
        state = folder.stat()
    except OSError:
        return None
    return (state.st_dev, state.st_ino)


@contextlib.contextmanager
def disk_events(root: Path) -> Iterator[Events]:
    """Changes on the disk below `root`, until the block is left."""
    from watchdog.events import FileSystemEvent, FileSystemEventHandler
    from watchdog.observers import Observer

    paths: queue.SimpleQueue[Path] = queue.SimpleQueue()

    class Handler(FileSystemEventHandler):
        def on_any_event(self, event: FileSystemEvent) -> None:
            # Reading a file is no change, and the build itself reads them all.
            if event.event_type in ("opened", "closed_no_write"):
                return
            for name in (event.src_path, event.dest_path):
                if name:
                    paths.put(Path(os.fsdecode(name)))

    observer = Observer()
    handler = Handler()

    def begin() -> None:
        observer.unschedule_all()
        with contextlib.suppress(OSError):
            observer.schedule(handler, str(root), recursive=True)

    observer.start()
    try:
        begin()
        yield _Queued(root, paths, begin)
    finally:
        observer.stop()
        observer.join()

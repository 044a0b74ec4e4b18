"""What was made of each file last time, so that only changed files are read and analysed again.

One packed file per book in the user's cache folder, never in the book. `RECIPEC_CACHE` names another folder, or `off`.
A cached build equals a fresh one: an entry is found only by the text itself, its name, the settings, the larder, and
the very program that made it. Damage of any kind only means the work is done again.

The pack: a magic line, the digest and length of the index, the index (JSON: key → offset, length, digest), the entries.
"""

from __future__ import annotations

import contextlib
import hashlib
import io
import json
import mmap
import os
import pickle
import struct
import tempfile
from collections.abc import Callable, Mapping
from dataclasses import fields, is_dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path
from types import MappingProxyType, TracebackType
from typing import Any, NamedTuple, Self

from recipec.base.places import grammar_dir
from recipec.base.source import Source
from recipec.measure.quantity import Unit
from recipec.measure.units import unit

_MAGIC = b"recipec pack 1\n"
_HEAD = struct.Struct(f"<{len(_MAGIC)}s32sQ")
_SWITCHED_OFF = frozenset({"off", "0", "no", "false", ""})


@cache
def _fraction(top: int, bottom: int) -> Fraction:
    return Fraction(top, bottom)


@cache
def _set(items: tuple[object, ...]) -> frozenset[object]:
    return frozenset(items)


# Entries are read with nothing but these at hand, so that a pack someone else wrote can build data and nothing else.
_MODULES = ("recipec.base.", "recipec.model.", "recipec.measure.")
_SHARED: Mapping[tuple[str, str], Callable[..., object]] = MappingProxyType(
    {
        # A book repeats few numbers and few sets; one of each is kept for all its dishes.
        ("fractions", "Fraction"): _fraction,
        ("builtins", "frozenset"): lambda items: _set(tuple(items)),
        ("recipec.measure.units", "unit"): unit,
    }
)
_PLAIN = {"datetime": ("datetime", "date", "time"), "decimal": ("Decimal",)}


class _Entry(NamedTuple):
    offset: int
    length: int
    digest: str


class Cache:
    """A book's pack, open for one compilation: `with open_cache(root, context) as cache`.

    `get` and `put` never raise for anything that is wrong with the pack or its folder.
    """

    def __init__(self, path: Path | None, salt: bytes) -> None:
        self._path = path
        self._salt = salt
        self._map: mmap.mmap | None = None
        self._index: dict[str, _Entry] = {}
        self._used: dict[str, bytes | _Entry] = {}
        self._fresh = False

    def __enter__(self) -> Self:
        if self._path is not None:
            self._open(self._path)
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        try:
            if kind is None and self._path is not None and (self._fresh or self._used.keys() != self._index.keys()):
                with contextlib.suppress(OSError):
                    self._save(self._path)
        finally:
            if self._map is not None:
                self._map.close()

    def get(self, source: Source, kind: str) -> object | None:
        """What was put for this text under this name, with every span in `source`; None when there is nothing."""
        return self._load(self._key(source, kind), {source.name: source})

    def put(self, source: Source, kind: str, value: object) -> None:
        """Keep what was made of a text for next time."""
        self._keep(self._key(source, kind), value, {source.name: source})

    def get_whole(self, sources: Mapping[str, Source]) -> object | None:
        """What was put for exactly these texts together; every other entry is then as good as used."""
        value = self._load(self._key_of_all(sources), sources)
        if value is not None:
            self._used = dict(self._index)
        return value

    def put_whole(self, sources: Mapping[str, Source], value: object) -> None:
        """Keep what was made of all these texts together."""
        self._keep(self._key_of_all(sources), value, sources)

    def _load(self, key: str, sources: Mapping[str, Source]) -> object | None:
        entry = self._index.get(key)
        if self._map is None or entry is None:
            return None
        data = self._map[entry.offset : entry.offset + entry.length]
        if _digest(data) != entry.digest:
            return None
        try:
            value: object = _Reader(io.BytesIO(data), sources).load()
        except Exception:  # unpickling damaged data may raise anything; the work is done again
            return None
        self._used[key] = entry
        return value

    def _keep(self, key: str, value: object, sources: Mapping[str, Source]) -> None:
        if self._path is not None:
            self._used[key] = packed(value, sources)
            self._fresh = True

    def _key_of_all(self, sources: Mapping[str, Source]) -> str:
        texts = (text for name in sorted(sources) for text in (name, sources[name].text))
        return self._hashed("whole", *texts)

    def _key(self, source: Source, kind: str) -> str:
        return self._hashed(kind, source.name, source.text)

    def _hashed(self, *texts: str) -> str:
        digest = hashlib.blake2b(self._salt, digest_size=16)
        for text in texts:
            data = text.encode("utf-8", "surrogatepass")
            digest.update(len(data).to_bytes(8, "little"))
            digest.update(data)
        return digest.hexdigest()

    def _open(self, path: Path) -> None:
        try:
            with path.open("rb") as file:
                self._map = mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ)
            magic, digest, length = _HEAD.unpack_from(self._map)
            index = self._map[_HEAD.size : _HEAD.size + length]
            if magic != _MAGIC or hashlib.sha256(index).digest() != digest:
                return
            self._index = {key: _Entry(*entry) for key, entry in json.loads(index).items()}
        except (OSError, ValueError, struct.error, TypeError, AttributeError):
            self._index = {}

    def _save(self, path: Path) -> None:
        blobs: list[bytes] = []
        index: dict[str, tuple[int, int, str]] = {}
        offset = 0
        for key in sorted(self._used):
            kept = self._used[key]
            if isinstance(kept, bytes):
                data = kept
            else:
                assert self._map is not None
                data = self._map[kept.offset : kept.offset + kept.length]
            index[key] = (offset, len(data), _digest(data))
            blobs.append(data)
            offset += len(data)
        table = _index_bytes(index)
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        handle, name = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(_HEAD.pack(_MAGIC, hashlib.sha256(table).digest(), len(table)))
                file.write(table)
                for data in blobs:
                    file.write(data)
            Path(name).replace(path)
        except BaseException:
            Path(name).unlink(missing_ok=True)
            raise


def open_cache(root: Path, context: bytes) -> Cache:
    """The pack of the book at `root`. `context` is all that an analysis reads besides the text: settings and larder."""
    folder = cache_folder()
    if folder is None or Path(os.path.realpath(folder)).is_relative_to(os.path.realpath(root)):
        return Cache(None, b"")
    name = hashlib.sha256(os.fsencode(os.path.realpath(root))).hexdigest()[:24]
    salt = hashlib.sha256(program_mark() + context).digest()
    return Cache(folder / f"{name}.pack", salt)


def cache_folder() -> Path | None:
    """Where packs lie: `RECIPEC_CACHE`, else the user's cache folder; None when it says `off`."""
    chosen = os.environ.get("RECIPEC_CACHE")
    if chosen is not None:
        return None if chosen.strip().lower() in _SWITCHED_OFF else Path(chosen)
    import platformdirs

    return platformdirs.user_cache_path("recipec", appauthor=False)


def program_mark() -> bytes:
    """Changes whenever a file of the program or its grammar does, so that no other program's results are taken."""
    package = Path(__file__).resolve().parent.parent
    digest = hashlib.sha256()
    for folder in (
        *(package / ring for ring in ("base", "syntax", "measure", "larder", "model", "analyse", "plan")),
        grammar_dir(),
    ):
        for path in sorted(folder.rglob("*")):
            if path.is_file() and path.suffix not in (".pyc", ".md"):
                state = path.stat()
                name = path.relative_to(folder).as_posix()
                digest.update(f"{folder.name}/{name} {state.st_size} {state.st_mtime_ns}\n".encode())
    return digest.digest()


# ---------------------------------------------------------------- one entry


class _SourceHere:
    """Stands in an entry for a source, by its name: its text has just been read anyway."""


class _Writer(pickle.Pickler):
    def __init__(self, file: io.BytesIO, sources: Mapping[str, Source]) -> None:
        super().__init__(file, protocol=5)
        self._sources = sources

    def reducer_override(self, value: object) -> Any:
        if isinstance(value, Source) and self._sources.get(value.name) is value:
            return (_SourceHere, (value.name,))
        if isinstance(value, Unit):
            return (unit, (value.name,)) if unit(value.name) == value else NotImplemented
        if is_dataclass(value) and not isinstance(value, type):
            # Rebuilding through the constructor is several times faster than a frozen dataclass's own way.
            return (type(value), tuple(getattr(value, field.name) for field in fields(value)))
        return NotImplemented


class _Reader(pickle.Unpickler):
    def __init__(self, file: io.BytesIO, sources: Mapping[str, Source]) -> None:
        super().__init__(file)
        self._sources = sources

    def find_class(self, module: str, name: str) -> object:
        if name == "_SourceHere":
            # No circle back to this reader: in a short run nothing looks for rubbish.
            return self._sources.__getitem__
        known = _SHARED.get((module, name))
        if known is not None:
            return known
        if name in _PLAIN.get(module, ()) or module.startswith(_MODULES):
            found = super().find_class(module, name)
            if isinstance(found, type):
                return found
        raise pickle.UnpicklingError(f"no entry holds {module}.{name}")


def packed(value: object, sources: Mapping[str, Source]) -> bytes:
    """One entry's bytes; the sources themselves are left out."""
    file = io.BytesIO()
    _Writer(file, sources).dump(value)
    return file.getvalue()


def _digest(data: bytes) -> str:
    return hashlib.blake2b(data, digest_size=16).hexdigest()


def _index_bytes(index: Mapping[str, tuple[int, int, str]]) -> bytes:
    # Offsets count from the start of the file, and the index's own length is part of them: its numbers are written
    # at a fixed width, so one look is enough.
    def table(shift: int) -> bytes:
        rows = (
            f'"{key}":[{offset + shift:12d},{length:12d},"{digest}"]' for key, (offset, length, digest) in index.items()
        )
        return ("{" + ",".join(rows) + "}").encode("ascii")

    return table(_HEAD.size + len(table(0)))

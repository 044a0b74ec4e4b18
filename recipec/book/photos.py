"""Pictures of dishes: which file of the book a fact `photo:` means, and whether it is one that a page can show.

A picture goes on paper as it is; only its first bytes are read for what it is and how large, so that a page keeps its
place free. A dish whose picture can't be shown has a finding, and its page is made without.
"""

from __future__ import annotations

import posixpath
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, NamedTuple

from recipec.base.finding import Finding
from recipec.base.suggest import nearest
from recipec.book.files import Picture, is_picture, read_bytes, why
from recipec.model.dish import Dish

if TYPE_CHECKING:
    from recipec.book.compile import Build
    from recipec.emit.request import Photo

LARGEST_PHOTO = 8 * 1024 * 1024
"""Bytes. A page that is read in a kitchen must open at once."""

_HEAD = 256 * 1024
"""Bytes that are read of a picture to learn its size: a camera's notes come first and may be long."""

_PNG = b"\x89PNG\r\n\x1a\n"
_JPEG = b"\xff\xd8\xff"
# JPEG: every start of a frame but those codes that mean tables and arithmetic (ITU-T T.81, table B.1).
_FRAMES = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}
_BARE = frozenset({0x01, *range(0xD0, 0xD8)})
_EXIF = 0xE1
_ORIENTATION = 0x0112
_ON_ITS_SIDE = frozenset({5, 6, 7, 8})


class Shape(NamedTuple):
    """What a picture is, as an ending, and its size in pixels as it is shown."""

    ending: str
    width: int
    height: int


class Photos(NamedTuple):
    """Dish key → file of the book, and what is to be said of those that can't be shown."""

    names: Mapping[str, str]
    findings: tuple[Finding, ...]


def find_photos(root: Path, dishes: Iterable[Dish], pictures: Sequence[Picture]) -> Photos:
    """The picture of every dish that names one; a name is read from the dish's own folder. `pictures` are all of the book's."""
    known = {picture.name: picture for picture in pictures}
    names: dict[str, str] = {}
    findings: list[Finding] = []
    for dish in dishes:
        if not dish.photo:
            continue
        name = _in_book(dish)
        picture = known.get(name)
        found = _missing(dish, known) if picture is None else _fault(root, dish, picture)
        if found is None:
            names[dish.key] = name
        else:
            findings.append(found)
    return Photos(MappingProxyType(names), tuple(findings))


def read_photos(build: Build) -> Mapping[str, Photo]:
    """The pictures of a compiled book by dish. One that has gone since is left out."""
    from recipec.emit.request import Photo

    read: dict[str, Photo] = {}
    for key, name in build.photos.items():
        try:
            data = read_bytes(str(build.root / name), LARGEST_PHOTO)
        except (OSError, ValueError):
            continue
        shape = shape_of(data)
        if shape is not None:
            read[key] = Photo(*shape, data)
    return MappingProxyType(read)


def _in_book(dish: Dish) -> str:
    return posixpath.normpath(posixpath.join(posixpath.dirname(dish.span.source.name), dish.photo))


def _missing(dish: Dish, known: Iterable[str]) -> Finding:
    if not is_picture(dish.photo):
        return _finding(
            dish,
            f"`{dish.photo}` is no picture that a page can show.",
            "Save it as PNG, JPEG or WebP and name that file, or take the fact away.",
        )
    folder = posixpath.dirname(dish.span.source.name) or "."
    from_here = sorted(posixpath.relpath(name, folder) for name in known)
    wanted = posixpath.basename(dish.photo).casefold()
    near = [name for name in from_here if posixpath.basename(name).casefold() == wanted] or nearest(
        dish.photo, from_here
    )
    hint = f"Did you mean `{near[0]}`?" if near else "Put the file beside the dish, or take the fact away."
    return _finding(dish, f"There is no picture `{dish.photo}` in the book, seen from this dish.", hint)


def _fault(root: Path, dish: Dish, picture: Picture) -> Finding | None:
    if picture.size > LARGEST_PHOTO:
        return _finding(
            dish,
            f"The picture `{dish.photo}` is larger than {LARGEST_PHOTO // (1024 * 1024)} MB.",
            "Save it smaller: 2000 pixels across are plenty.",
        )
    try:
        head = read_bytes(str(root / picture.name), _HEAD)
    except (OSError, ValueError) as problem:
        return _finding(dish, f"The picture can't be read: {why(problem)}.", "See that you may read it.")
    if shape_of(head) is None:
        return _finding(
            dish,
            f"`{dish.photo}` holds no PNG, JPEG or WebP picture, whatever its name says.",
            "Save it anew as one of these.",
        )
    return None


def _finding(dish: Dish, message: str, hint: str) -> Finding:
    place = dish.title_span if dish.photo_span is None else dish.photo_span
    return Finding("no-photo", place, message, hints=(hint, "The dish's page is made without it."))


def shape_of(data: bytes) -> Shape | None:
    """What a picture's first bytes say of it; None when they are no picture's, or say no size."""
    if data.startswith(_PNG):
        size = _big(data[16:20]), _big(data[20:24])
        return _shape("png", size) if data[12:16] == b"IHDR" and len(data) >= 24 else None
    if data.startswith(_JPEG):
        return _shape("jpg", _jpeg(data))
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP" and len(data) >= 30:
        return _shape("webp", _webp(data))
    return None


def _shape(ending: str, size: tuple[int, int] | None) -> Shape | None:
    return Shape(ending, *size) if size is not None and min(size) > 0 else None


def _jpeg(data: bytes) -> tuple[int, int] | None:
    place = 2
    on_its_side = False
    while place + 9 < len(data):
        if data[place] != 0xFF:
            return None
        marker = data[place + 1]
        if marker == 0xFF or marker in _BARE:
            place += 1 if marker == 0xFF else 2
            continue
        length = _big(data[place + 2 : place + 4])
        if marker in _FRAMES:
            height, width = _big(data[place + 5 : place + 7]), _big(data[place + 7 : place + 9])
            return (height, width) if on_its_side else (width, height)
        if marker == _EXIF and data[place + 4 : place + 10] == b"Exif\0\0":
            on_its_side = _orientation(data[place + 10 : place + 2 + length]) in _ON_ITS_SIDE
        place += 2 + max(length, 2)
    return None


def _orientation(tiff: bytes) -> int:
    """How a camera was held (Exif 2.32, 4.6.4); 1, upright, where its notes do not say."""
    order = {b"II": "little", b"MM": "big"}.get(tiff[:2])
    if order is None:
        return 1
    number = _little if order == "little" else _big
    start = number(tiff[4:8])
    entries = (
        tiff[place : place + 12] for place in range(start + 2, start + 2 + 12 * number(tiff[start : start + 2]), 12)
    )
    return next((number(entry[8:10]) for entry in entries if number(entry[:2]) == _ORIENTATION), 1)


def _webp(data: bytes) -> tuple[int, int] | None:
    """The three forms of WebP (RFC 9649, 2.5 to 2.7)."""
    match data[12:16]:
        case b"VP8X":
            return _little(data[24:27]) + 1, _little(data[27:30]) + 1
        case b"VP8L" if data[20] == 0x2F:
            bits = _little(data[21:25])
            return (bits & 0x3FFF) + 1, (bits >> 14 & 0x3FFF) + 1
        case b"VP8 " if data[23:26] == b"\x9d\x01\x2a":
            return _little(data[26:28]) & 0x3FFF, _little(data[28:30]) & 0x3FFF
        case _:
            return None


def _big(data: bytes) -> int:
    return int.from_bytes(data, "big")


def _little(data: bytes) -> int:
    return int.from_bytes(data, "little")

"""Pictures of dishes: found inside the book alone, measured by their first bytes, and left out where they are not right."""

from __future__ import annotations

import struct
from pathlib import Path

import pytest

from recipec.book.build import write_build
from recipec.book.compile import check_book, compile_book
from recipec.book.files import concerns
from recipec.book.photos import LARGEST_PHOTO, read_photos, shape_of
from recipec.book.write import Written

DISH = "Boiled eggs\nserves: 2\nphoto: {}\n\nBoil [4 eggs] in a {{pan}} for <12 min>.\n"
PNG = b"\x89PNG\r\n\x1a\n" + struct.pack(">I4sII", 13, b"IHDR", 480, 360) + b"\x08\x02\0\0\0"
FRAME = b"\xff\xc0\x00\x0b\x08" + struct.pack(">HH", 360, 480) + b"\x01\x01\x11\x00"


def exif(order: str, turn: int) -> bytes:
    """A camera's notes that say one thing: how it was held."""
    sign = {"<": b"II*\0", ">": b"MM\0*"}[order]
    tiff = sign + struct.pack(f"{order}IHHHIHHI", 8, 1, 0x0112, 3, 1, turn, 0, 0)
    return b"\xff\xe1" + struct.pack(">H", 8 + len(tiff)) + b"Exif\0\0" + tiff


def webp(kind: bytes, body: bytes) -> bytes:
    """A WebP of one of its three forms."""
    return b"RIFF\0\0\0\0WEBP" + kind + struct.pack("<I", len(body)) + body + bytes(10)


def book(root: Path, photo: str) -> Path:
    (root / "cookbook.toml").write_text('title = "Eggs"\n')
    (root / "dishes").mkdir()
    (root / "dishes" / "eggs.dish").write_text(DISH.format(photo))
    (root / "dishes" / "eggs.png").write_bytes(PNG)
    return root


@pytest.mark.parametrize(
    ("data", "shape"),
    [
        (PNG, ("png", 480, 360)),
        (b"\xff\xd8" + FRAME, ("jpg", 480, 360)),
        (b"\xff\xd8\xff\xff\xfe\x00\x04hi" + FRAME, ("jpg", 480, 360)),
        (b"\xff\xd8" + exif("<", 1) + FRAME, ("jpg", 480, 360)),
        (b"\xff\xd8" + exif("<", 6) + FRAME, ("jpg", 360, 480)),
        (b"\xff\xd8" + exif(">", 8) + FRAME, ("jpg", 360, 480)),
        (webp(b"VP8X", b"\0\0\0\0\xdf\x01\0\x67\x01\0"), ("webp", 480, 360)),
        (webp(b"VP8L", b"\x2f" + struct.pack("<I", 479 | 359 << 14)), ("webp", 480, 360)),
        (webp(b"VP8 ", b"\0\0\0\x9d\x01\x2a" + struct.pack("<HH", 480, 360)), ("webp", 480, 360)),
    ],
)
def test_a_picture_says_what_it_is(data: bytes, shape: tuple[str, int, int]) -> None:
    assert shape_of(data) == shape
    for end in range(len(data) - 1):
        shape_of(data[:end])


@pytest.mark.parametrize("data", [b"", b"<svg/>", b"GIF89a", PNG[:20], b"\xff\xd8\xff\xd9", b"\xff\xd8\xff\xe1\0\0"])
def test_what_is_no_picture_is_none(data: bytes) -> None:
    assert shape_of(data) is None


def test_a_photo_comes_into_the_build_with_its_size(tmp_path: Path) -> None:
    build = compile_book(book(tmp_path, "eggs.png"), cached=False)
    assert build.findings == ()
    assert build.photos == {"eggs": "dishes/eggs.png"}
    photo = read_photos(build)["eggs"]
    assert (photo.ending, photo.width, photo.height, photo.data) == ("png", 480, 360, PNG)
    out = tmp_path / "out"
    assert isinstance(write_build(build, out), Written)
    assert (out / "assets" / "photos" / "eggs.png").read_bytes() == PNG
    page = (out / "dishes" / "eggs.html").read_text()
    assert '<img class="photo" src="../assets/photos/eggs.png" width="480" height="360"' in page
    assert '"image":"../assets/photos/eggs.png"' in page


@pytest.mark.parametrize(
    "photo",
    [
        "gone.png",
        "../../elsewhere.png",
        "/etc/passwd",
        "eggs.svg",
        "link.png",
        "bad.jpg",
        "large.png",
        "./",
        "a\\b.png",
    ],
)
def test_a_photo_that_cant_be_shown_is_a_warning_and_leaves_no_hole(tmp_path: Path, photo: str) -> None:
    (tmp_path / "elsewhere.png").write_bytes(PNG)
    (tmp_path / "book").mkdir()
    root = book(tmp_path / "book", photo)
    (root / "dishes" / "bad.jpg").write_bytes(b"GIF89a")
    (root / "dishes" / "link.png").symlink_to(tmp_path / "elsewhere.png")
    with (root / "dishes" / "large.png").open("wb") as file:
        file.truncate(LARGEST_PHOTO + 1)
    build = compile_book(root, cached=False)
    assert [(one.slug, one.span.text) for one in build.findings] == [("no-photo", photo)]
    assert build.findings[0].hints
    out = tmp_path / "out"
    assert isinstance(write_build(build, out), Written)
    assert not (out / "assets" / "photos").exists()
    assert "<img" not in (out / "dishes" / "eggs.html").read_text()


def test_a_photo_that_has_gone_since_leaves_no_hole(tmp_path: Path) -> None:
    build = compile_book(book(tmp_path, "eggs.png"), cached=False)
    (tmp_path / "dishes" / "eggs.png").unlink()
    assert read_photos(build) == {}


def test_a_photo_elsewhere_in_the_book_is_offered_by_the_way_there(tmp_path: Path) -> None:
    root = book(tmp_path, "toast.png")
    (root / "photos").mkdir()
    (root / "photos" / "toast.png").write_bytes(PNG)
    (finding,) = compile_book(root, cached=False).findings
    assert finding.hints[0] == "Did you mean `../photos/toast.png`?"


def test_a_check_of_an_unchanged_book_still_sees_its_pictures(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("RECIPEC_CACHE", str(tmp_path / "cache"))
    (tmp_path / "book").mkdir()
    root = book(tmp_path / "book", "eggs.png")
    assert check_book(root).findings == ()
    (root / "dishes" / "eggs.png").rename(root / "dishes" / "other.png")
    assert [one.slug for one in check_book(root).findings] == ["no-photo"]
    assert [one.slug for one in check_book(root).findings] == ["no-photo"]
    (root / "dishes" / "eggs.png").write_bytes(PNG)
    assert check_book(root).findings == ()


def test_a_watch_hears_of_a_picture() -> None:
    assert concerns("dishes/eggs.JPG")
    assert not concerns("dishes/.eggs.png")
    assert not concerns("dishes/eggs.gif")

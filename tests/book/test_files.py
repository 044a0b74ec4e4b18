"""Which files a book has, and how they are read."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from recipec.base.finding import Finding
from recipec.book.files import LARGEST, MANIFEST, decoded, find_book, kind_of, list_book, read_file


def put(root: Path, name: str, data: bytes | str = "Soup\n") -> None:
    path = root / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(data if isinstance(data, bytes) else data.encode("utf-8"))


def slugs(findings: tuple[Finding, ...]) -> list[tuple[str, str]]:
    return [(one.slug, one.span.source.name) for one in findings]


def test_lists_the_texts_of_a_book_sorted_and_nothing_else(tmp_path: Path) -> None:
    for name in ("z.dish", "a/b.dish", "a/C.DISH", "e.event", "k.kitchen", "cookbook.toml", "prices.csv", "larder.csv"):
        put(tmp_path, name)
    for name in ("notes.txt", "a/prices.csv", ".git/x.dish", ".hidden.dish", "dish", f"out/{MANIFEST}", "out/old.dish"):
        put(tmp_path, name)
    listing = list_book(tmp_path, {})
    assert listing.names == (
        "a/C.DISH",
        "a/b.dish",
        "cookbook.toml",
        "e.event",
        "k.kitchen",
        "larder.csv",
        "prices.csv",
        "z.dish",
    )
    assert listing.folders == ("", "a")
    assert listing.findings == ()


def test_unsaved_text_stands_for_the_file_and_for_one_not_there_yet(tmp_path: Path) -> None:
    put(tmp_path, "a.dish", "saved")
    overlay = {"a.dish": "unsaved", "new.dish": "new", "notes.txt": "no"}
    assert list_book(tmp_path, overlay).names == ("a.dish", "new.dish")
    read = read_file(tmp_path, "a.dish", overlay)
    assert read.source is not None and read.source.text == "unsaved"


def test_links_are_followed_only_inside_the_book(tmp_path: Path) -> None:
    book, elsewhere = tmp_path / "book", tmp_path / "elsewhere"
    put(book, "a.dish")
    put(elsewhere, "secret.dish")
    (book / "inside.dish").symlink_to("a.dish")
    (book / "out.dish").symlink_to(elsewhere / "secret.dish")
    (book / "folder").symlink_to(elsewhere)
    (book / "round.dish").symlink_to("round.dish")
    assert list_book(book, {}).names == ("a.dish", "inside.dish", "out.dish", "round.dish")
    assert read_file(book, "inside.dish", {}).findings == ()
    for name in ("out.dish", "round.dish"):
        read = read_file(book, name, {})
        assert read.source is None
        assert slugs(read.findings) == [("unreadable-file", name)]


def test_what_is_no_ordinary_file_is_never_opened(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.dish")
    read = read_file(tmp_path, "pipe.dish", {})
    assert read.source is None
    assert slugs(read.findings) == [("unreadable-file", "pipe.dish")]


def test_a_file_that_is_gone_or_too_large_is_a_finding(tmp_path: Path) -> None:
    assert slugs(read_file(tmp_path, "gone.dish", {}).findings) == [("unreadable-file", "gone.dish")]
    with (tmp_path / "big.dish").open("wb") as file:
        file.truncate(LARGEST + 1)
    (finding,) = read_file(tmp_path, "big.dish", {}).findings
    assert "larger than 16 MB" in finding.message


def test_a_folder_without_permission_is_a_finding(tmp_path: Path) -> None:
    put(tmp_path, "shut/a.dish")
    (tmp_path / "shut").chmod(0)
    if os.access(tmp_path / "shut", os.R_OK):
        pytest.skip("this user may read everything")
    try:
        assert slugs(list_book(tmp_path, {}).findings) == [("unreadable-file", "shut")]
    finally:
        (tmp_path / "shut").chmod(0o755)


def test_a_name_that_is_no_utf8_is_a_finding(tmp_path: Path) -> None:
    try:
        Path(os.fsdecode(os.fsencode(tmp_path) + b"/caf\xe9.dish")).write_text("x")
    except OSError:
        pytest.skip("this file system has only UTF-8 names")
    listing = list_book(tmp_path, {})
    assert listing.names == ()
    assert slugs(listing.findings) == [("unreadable-file", "caf?.dish")]


@pytest.mark.parametrize(
    ("data", "words", "at"),
    [
        (b"Caf\xe9 soup", "Byte 4", 3),
        ("Ünd caf".encode() + b"\xe9", "Byte 9", 7),
        (b"\xef\xbb\xbfcaf\xe9", "Byte 7", 3),
        ("Soup".encode("utf-16"), "UTF-16", 0),
    ],
)
def test_bytes_that_are_no_utf8_are_pointed_at(data: bytes, words: str, at: int) -> None:
    read = decoded("a.dish", data)
    assert read.source is not None
    (finding,) = read.findings
    assert finding.slug == "bad-encoding" and words in finding.message
    assert finding.span.start == at
    if words.startswith("Byte"):
        assert finding.span.text == "\ufffd"


def test_a_byte_order_mark_and_any_line_ends_are_welcome() -> None:
    read = decoded("a.dish", b"\xef\xbb\xbfSoup\r\nserves: 4\r")
    assert read.findings == ()
    assert read.source is not None and read.source.text == "Soup\r\nserves: 4\r"


def test_the_nearest_book_upward(tmp_path: Path) -> None:
    put(tmp_path, "cookbook.toml", "")
    put(tmp_path, "inner/cookbook.toml", "")
    put(tmp_path, "inner/deep/a.dish")
    assert find_book(tmp_path / "inner/deep/a.dish") == tmp_path / "inner"
    assert find_book(tmp_path / "inner") == tmp_path / "inner"
    assert find_book(tmp_path / "other/deep") == tmp_path
    (tmp_path / "cookbook.toml").unlink()
    assert find_book(tmp_path / "other") is None


def test_kinds_by_ending() -> None:
    assert [kind_of(name) for name in ("a.dish", "b/c.Event", "k.kitchen", "dish", "a.dish.txt", "prices.csv")] == [
        "dish",
        "event",
        "kitchen",
        None,
        None,
        None,
    ]


def test_a_book_inside_a_book_is_a_book_of_its_own(tmp_path: Path) -> None:
    for folder in (tmp_path, tmp_path / "inner"):
        folder.mkdir(exist_ok=True)
        (folder / "cookbook.toml").write_text("")
        (folder / "soup.dish").write_text("Soup\n")
    assert list_book(tmp_path, {}).names == ("cookbook.toml", "soup.dish")
    assert list_book(tmp_path / "inner", {}).names == ("cookbook.toml", "soup.dish")

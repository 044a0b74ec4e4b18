"""The pack: what was kept comes back equal, and damage only costs time."""

from __future__ import annotations

import pickle
from fractions import Fraction
from pathlib import Path

import pytest

from recipec.base.finding import Finding, Fix, Label
from recipec.base.source import Source
from recipec.base.span import Span
from recipec.book.cache import Cache, cache_folder, open_cache, packed, program_mark
from recipec.measure.quantity import Amount, Quantity
from recipec.measure.units import unit
from recipec.model.kitchen import Gear, Kitchen

SOURCE = Source("a.kitchen", "Kitchen\noven: 1\n")


def value_in(source: Source) -> tuple[Kitchen, tuple[Finding, ...]]:
    span = Span(source, 8, 12)
    takes = Amount((Quantity(Fraction(1, 3), Fraction(2, 3), unit("us_cup")),), about=True)
    gear = Gear(span, "oven", "oven", 1, 2, Fraction(250), None, True, False, None, "", takes, "")
    finding = Finding("never-used", span, "Left.", (Label(span, "here"),), ("Hint.",), (Fix(span, "x", "y"),))
    return Kitchen("a", "Kitchen", span, (gear,), 4, ()), (finding,)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("RECIPEC_CACHE", str(tmp_path / "cache"))
    return tmp_path


def fill(root: Path, context: bytes = b"", *names: str) -> None:
    with open_cache(root, context) as cache:
        for name in names or ("a.kitchen",):
            source = Source(name, SOURCE.text)
            cache.put(source, "kitchen", value_in(source))


def kept(root: Path, source: Source = SOURCE, context: bytes = b"", kind: str = "kitchen") -> object | None:
    with open_cache(root, context) as cache:
        return cache.get(source, kind)


def pack(folder: Path) -> Path:
    (found,) = (folder / "cache").iterdir()
    return found


def test_what_was_put_comes_back_with_spans_in_the_new_source(folder: Path) -> None:
    fill(folder / "book")
    again = Source("a.kitchen", SOURCE.text)
    value = kept(folder / "book", again)
    assert value == value_in(SOURCE)
    kitchen, (finding,) = value  # type: ignore[misc]
    assert finding.span.source is again and kitchen.gear[0].span.source is again
    assert kitchen.gear[0].takes.terms[0].unit is unit("us_cup")


@pytest.mark.parametrize(
    ("source", "context", "kind"),
    [
        (Source("a.kitchen", SOURCE.text + " "), b"", "kitchen"),
        (Source("b.kitchen", SOURCE.text), b"", "kitchen"),
        (SOURCE, b"other settings", "kitchen"),
        (SOURCE, b"", "dish"),
        (Source("a.kitche", "n" + SOURCE.text), b"", "kitchen"),
    ],
)
def test_another_text_name_kind_or_setting_is_another_entry(
    folder: Path, source: Source, context: bytes, kind: str
) -> None:
    fill(folder / "book")
    assert kept(folder / "book", source, context, kind) is None


def test_another_program_takes_nothing(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    fill(folder / "book")
    monkeypatch.setattr("recipec.book.cache.program_mark", lambda: b"another")
    assert kept(folder / "book") is None
    assert program_mark() == program_mark()


def test_unused_entries_go_and_an_unchanged_pack_is_not_written(folder: Path) -> None:
    fill(folder / "book", b"", "a.kitchen", "b.kitchen")
    before = pack(folder).stat().st_ino
    with open_cache(folder / "book", b"") as cache:
        for name in ("a.kitchen", "b.kitchen"):
            assert cache.get(Source(name, SOURCE.text), "kitchen") is not None
    assert pack(folder).stat().st_ino == before
    assert kept(folder / "book", Source("a.kitchen", SOURCE.text)) is not None  # and b was not asked for
    assert kept(folder / "book", Source("b.kitchen", SOURCE.text)) is None


def test_an_exception_keeps_the_old_pack(folder: Path) -> None:
    fill(folder / "book")
    with pytest.raises(KeyError), open_cache(folder / "book", b"") as cache:
        cache.put(Source("b.kitchen", "x"), "kitchen", 1)
        raise KeyError
    assert kept(folder / "book") is not None


def test_every_kind_of_damage_only_costs_time(folder: Path) -> None:
    fill(folder / "book")
    path = pack(folder)
    good = path.read_bytes()
    damaged = [b"", b"x", good[:30], good[:-1], b"\0" * len(good), good[: len(good) // 2]]
    damaged += [good[:at] + bytes([good[at] ^ 0xFF]) + good[at + 1 :] for at in range(0, len(good), 7)]
    for data in damaged:
        path.write_bytes(data)
        assert kept(folder / "book") in (None, value_in(SOURCE))
        path.write_bytes(data)
        fill(folder / "book")
        assert kept(folder / "book") == value_in(SOURCE)


def test_a_pack_is_data_and_runs_nothing(folder: Path) -> None:
    class Evil:
        def __reduce__(self) -> tuple[object, tuple[str]]:
            return (eval, ("1/0",))

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("recipec.book.cache.packed", lambda value, sources: pickle.dumps(Evil()))
        fill(folder / "book")
    assert kept(folder / "book") is None
    assert b"Kitchen" in packed(value_in(SOURCE), {SOURCE.name: SOURCE})


def test_what_was_put_for_all_texts_together(folder: Path) -> None:
    def texts(*pairs: tuple[str, str]) -> dict[str, Source]:
        return {name: Source(name, text) for name, text in pairs}

    first = texts(("a", "x"), ("b", "y"))
    fill(folder / "book")
    with open_cache(folder / "book", b"") as cache:
        assert cache.get(SOURCE, "kitchen") is not None
        cache.put_whole(first, (Span(first["b"], 0, 1),))
    again = texts(("b", "y"), ("a", "x"))
    with open_cache(folder / "book", b"") as cache:
        assert cache.get_whole(again) == (Span(again["b"], 0, 1),)
        for other in (texts(("a", "x")), texts(("a", "y"), ("b", "x")), texts(("ax", ""), ("b", "y"))):
            assert cache.get_whole(other) is None
    assert kept(folder / "book") is not None, "the other entries stay"


def test_the_text_itself_is_not_kept(folder: Path) -> None:
    fill(folder / "book")
    assert b"oven: 1\n" not in pack(folder).read_bytes()


def test_where_packs_lie(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert cache_folder() == folder / "cache"
    for word in ("off", "0", "", "No"):
        monkeypatch.setenv("RECIPEC_CACHE", word)
        assert cache_folder() is None
    monkeypatch.delenv("RECIPEC_CACHE")
    usual = cache_folder()
    assert usual is not None and "recipec" in usual.parts


def test_never_in_the_book_and_never_a_hindrance(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    book = folder / "book"
    book.mkdir()
    monkeypatch.setenv("RECIPEC_CACHE", str(book / "cache"))
    fill(book)
    assert list(book.iterdir()) == []
    (folder / "file").write_text("x")
    monkeypatch.setenv("RECIPEC_CACHE", str(folder / "file"))
    fill(book)
    assert kept(book) is None


def test_a_cache_that_is_off_keeps_nothing() -> None:
    with Cache(None, b"") as cache:
        cache.put(SOURCE, "kitchen", 1)
        assert cache.get(SOURCE, "kitchen") is None

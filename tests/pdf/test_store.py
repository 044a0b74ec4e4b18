"""PDFs kept from run to run: the same bytes, set once, and never believed when damaged."""

from __future__ import annotations

from pathlib import Path

import pytest

from recipec.book.prints import PrintStore, print_store
from recipec.emit.pdf import press
from recipec.emit.pdf.press import Job

WORK = Job("menu.typ", b"{}")


@pytest.fixture
def count(monkeypatch: pytest.MonkeyPatch) -> list[Job]:
    made: list[Job] = []

    def set_type(job: Job) -> bytes:
        made.append(job)
        return b"%PDF of " + job.data

    monkeypatch.setattr(press, "set_type", set_type)
    return made


def test_a_job_is_done_once(tmp_path: Path, count: list[Job]) -> None:
    store = PrintStore(tmp_path / "prints")
    assert store.pdf(WORK) == store.pdf(WORK) == PrintStore(tmp_path / "prints").pdf(WORK)
    assert len(count) == 1
    store.pdf(Job("menu.typ", b'{"a":1}'))
    assert len(count) == 2


@pytest.mark.parametrize("damage", [b"", b"%PDF of lies", None])
def test_a_damaged_file_is_never_believed(tmp_path: Path, count: list[Job], damage: bytes | None) -> None:
    folder = tmp_path / "prints"
    good = PrintStore(folder).pdf(WORK)
    (file,) = folder.iterdir()
    whole = file.read_bytes()
    file.write_bytes(damage if damage is not None else whole[:-1] + b"!")
    assert PrintStore(folder).pdf(WORK) == good
    assert len(count) == 2
    assert file.read_bytes() == whole


def test_off_keeps_nothing(tmp_path: Path, count: list[Job], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("RECIPEC_CACHE", "off")
    print_store().pdf(WORK)
    print_store().pdf(WORK)
    assert len(count) == 2


def test_a_folder_that_can_t_be_made_costs_only_time(tmp_path: Path, count: list[Job]) -> None:
    (tmp_path / "file").write_text("no folder")
    assert PrintStore(tmp_path / "file" / "prints").pdf(WORK) == b"%PDF of {}"

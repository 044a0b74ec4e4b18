"""`--format pdf` on the command line, and `build` with and without PDFs."""

from __future__ import annotations

from pathlib import Path

import pytest

from recipec.cli import printing
from recipec.cli.main import run
from tests.pdf.reading import MM, opened

ROOT = Path(__file__).parents[2]
SUPPER = ROOT / "tests" / "books" / "small-supper" / "src"


@pytest.mark.parametrize(
    "words",
    [
        ("card", "rice"),
        ("card", "rice", "--paper", "a5"),
        ("market", "supper"),
        ("cost", "supper"),
        ("cost", "rice"),
        ("timeline", "supper"),
        ("guests", "supper"),
        ("guests", "supper", "--paper", "labels", "--size", "Letter"),
    ],
)
def test_a_paper_is_written_as_pdf(words: tuple[str, ...], tmp_path: Path) -> None:
    out = tmp_path / "paper.pdf"
    assert run([*words, "--book", str(SUPPER), "--format", "pdf", "-o", str(out)]) in (0, 1)
    with opened(out.read_bytes()) as pdf:
        assert len(pdf.pages) >= 1
        if "a5" in words:
            assert float(pdf.pages[0].mediabox[2]) / MM == pytest.approx(148, abs=0.1)


def test_a_pdf_is_never_poured_onto_a_terminal(
    monkeypatch: pytest.MonkeyPatch, capsysbinary: pytest.CaptureFixture[bytes]
) -> None:
    monkeypatch.setattr(printing.sys.stdout, "isatty", lambda: True, raising=False)
    assert run(["card", "rice", "--book", str(SUPPER), "--format", "pdf"]) == 2
    said = capsysbinary.readouterr()
    assert said.out == b"" and b"-o paper.pdf" in said.err


def test_build_makes_pdfs_or_leaves_them_out(tmp_path: Path) -> None:
    out = tmp_path / "out"
    assert run(["build", str(SUPPER), "-o", str(out), "--quiet"]) == 0
    assert (out / "book.pdf").read_bytes().startswith(b"%PDF-")
    assert (out / "cards" / "rice.pdf").is_file() and (out / "events" / "supper" / "market.pdf").is_file()
    assert run(["build", str(SUPPER), "-o", str(out), "--quiet", "--no-pdf"]) == 0
    assert not list(out.rglob("*.pdf")) and (out / "cards" / "rice.html").is_file()

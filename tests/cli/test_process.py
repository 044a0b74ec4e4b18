"""What only a real process shows: exit codes, pipes, encodings, Ctrl-C, and that a cook never sees a stack trace."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from recipec.cli.main import INTERNAL, internal_error

ROOT = Path(__file__).resolve().parents[2]


def recipec(*words: str, cwd: Path, **env: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "recipec", *words],
        cwd=cwd,
        env={**os.environ, "PYTHONPATH": str(ROOT), "RECIPEC_CACHE": "off", **env},
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )


def test_exit_codes(book: Path) -> None:
    assert recipec("check", cwd=book).returncode == 0
    assert recipec("chek", cwd=book).returncode == 2
    (book / "bad.dish").write_bytes(b"\xff\x00[")
    done = recipec("check", cwd=book)
    assert done.returncode == 1 and "bad-encoding" in done.stdout


def test_a_fault_of_ours_is_one_plain_line(book: Path) -> None:
    code = (
        "import sys, recipec.cli.main as m\n"
        "import recipec.book.compile as c\n"
        "def broken(*a, **k): raise KeyError('inside')\n"
        "c.link_book = broken\n"
        "sys.argv = ['recipec', 'check']\n"
        "m.main()\n"
    )
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    done = subprocess.run([sys.executable, "-c", code], cwd=book, env=env, capture_output=True, text=True, check=False)
    assert done.returncode == INTERNAL
    assert "Traceback" not in done.stderr and done.stdout == ""
    assert "not your mistake" in done.stderr and "KeyError" in done.stderr and "book/compile.py:" in done.stderr
    assert str(ROOT) not in done.stderr


def test_the_line_names_our_own_file() -> None:
    try:
        raise ValueError("x")
    except ValueError as fault:
        assert internal_error(fault).endswith("ValueError ?")


@pytest.mark.skipif(os.name != "posix", reason="no such pipes here")
def test_a_reader_that_has_enough_is_no_error(book: Path) -> None:
    for number in range(300):
        (book / f"bad{number}.dish").write_text("Soup\n\nMelt [20 g butter and more.\n")
    read, write = os.pipe()
    process = subprocess.Popen(
        [sys.executable, "-m", "recipec", "check"],
        cwd=book,
        env={**os.environ, "PYTHONPATH": str(ROOT), "RECIPEC_CACHE": "off"},
        stdout=write,
        stderr=subprocess.PIPE,
        text=True,
    )
    os.close(write)
    os.read(read, 10)
    os.close(read)
    _, errors = process.communicate()
    assert process.returncode in (0, 1)
    assert "Traceback" not in errors and "Exception ignored" not in errors and "BrokenPipe" not in errors


def test_a_terminal_without_letters_gets_their_numbers(book: Path) -> None:
    (book / "broth.dish").write_text("Broth\n\nMelt [20 g 味噌.\n", encoding="utf-8")
    done = recipec("check", cwd=book, PYTHONIOENCODING="latin-1")
    assert done.returncode == 1
    assert "[20 g \\u5473\\u564c" in done.stdout


@pytest.mark.slow
@pytest.mark.skipif(os.name != "posix", reason="no such signals here")
def test_watch_goes_on_past_errors_and_ends_well_with_ctrl_c(book: Path) -> None:
    process = subprocess.Popen(
        [sys.executable, "-m", "recipec", "watch", "-o", "../site"],
        cwd=book,
        env={**os.environ, "PYTHONPATH": str(ROOT), "RECIPEC_CACHE": "off", "PYTHONUNBUFFERED": "1"},
        stderr=subprocess.PIPE,
        text=True,
    )
    assert process.stderr is not None

    def until(words: str) -> str:
        seen = ""
        for line in process.stderr:  # type: ignore[union-attr]
            seen += line
            if words in line:
                return seen
        raise AssertionError(f"the watch ended: {seen}")

    try:
        until("Watching.")
        home = (book.parent / "site" / "index.html").read_bytes()
        (book / "bad.dish").write_text("Soup\n\nMelt [20 g butter and more.\n")
        assert "unclosed-mark" in until("Nothing was written")
        assert (book.parent / "site" / "index.html").read_bytes() == home
        (book / "bad.dish").unlink()
        until("as they were")
        (book / "cookbook.toml").write_text('title = "Renamed"\nmeasures = "metric"\ncurrency = "EUR"\n')
        until("written")
        assert b"Renamed" in (book.parent / "site" / "index.html").read_bytes()
    finally:
        process.send_signal(signal.SIGINT)
        _, rest = process.communicate(timeout=30)
    assert process.returncode == 0
    assert "Traceback" not in rest

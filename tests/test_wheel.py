"""The wheel stands on its own: built, installed in a clean environment outside the checkout, it builds the demo book."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import venv
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent

pytestmark = pytest.mark.slow


def run(*words: str | Path, cwd: Path, code: int = 0) -> subprocess.CompletedProcess[str]:
    # Nothing of the checkout or of this environment may help.
    env = {key: value for key, value in os.environ.items() if not key.startswith(("PYTHON", "VIRTUAL_ENV"))}
    done = subprocess.run(
        [str(word) for word in words], cwd=cwd, env=env, capture_output=True, text=True, encoding="utf-8", check=False
    )
    assert done.returncode == code, f"{words}\n{done.stdout}\n{done.stderr}"
    return done


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    run(sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", folder, ROOT, cwd=folder)
    (found,) = folder.glob("*.whl")
    return found


@pytest.fixture(scope="module")
def python(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("clean")
    venv.create(folder, with_pip=True)
    python = folder / "bin" / "python"
    run(python, "-m", "pip", "install", "-q", "--disable-pip-version-check", wheel, cwd=folder)
    return python


def test_what_travels(wheel: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    for path in [*(ROOT / "grammar").glob("*"), *(ROOT / "site").rglob("*")]:
        if path.is_file():
            assert f"recipec/_{path.relative_to(ROOT).as_posix()}" in names
    for path in (ROOT / "tests" / "findings").glob("*.md"):
        assert f"recipec/_findings/{path.name}" in names
    assert {"recipec/py.typed", "recipec/book/starter/cookbook.toml", "recipec/emit/schemas/check.json"} <= names
    assert not [name for name in names if name.startswith(("tests/", "recipes/", "site/", "grammar/"))]


def test_it_builds_the_demo_book_from_outside(python: Path, tmp_path: Path) -> None:
    shutil.copytree(ROOT / "recipes", tmp_path / "book")
    recipec = python.with_name("recipec")
    run(recipec, "build", "book", "-o", "out", cwd=tmp_path)
    assert (tmp_path / "out" / "index.html").is_file()
    assert len(list((tmp_path / "out" / "dishes").glob("*.html"))) >= 16
    # The same from the module's own name, with the same bytes: nothing is written.
    again = run(python, "-m", "recipec", "build", "book", "-o", "out", cwd=tmp_path)
    assert "files are as they were" in again.stderr


def test_every_command_works_there(python: Path, tmp_path: Path) -> None:
    recipec = python.with_name("recipec")
    run(recipec, "new", "mine", cwd=tmp_path)
    book = tmp_path / "mine"
    assert json.loads(run(recipec, "check", "--all", "--format", "json", cwd=book).stdout)["findings"] == []
    run(recipec, "build", cwd=book)
    assert "White bean soup" in run(recipec, "card", "white-bean-soup", "--for", "10", cwd=book).stdout
    assert "onion" in run(recipec, "market", "friday-supper", cwd=book).stdout
    assert "kg" in run(recipec, "convert", "3 lb", "kg", cwd=book).stdout
    assert run(recipec, "explain", "used-up", cwd=book).stdout.startswith("used-up (error)\n")


def test_importing_it_finds_the_types(python: Path, tmp_path: Path) -> None:
    code = "import recipec; print(recipec.compile_book, recipec.report_text, recipec.__version__)"
    run(python, "-c", code, cwd=tmp_path)

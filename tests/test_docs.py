"""DEVELOPERS.md and README.md held to the truth: every folder on the map, every path there, every shown command works."""

from __future__ import annotations

import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
README = (ROOT / "README.md").read_text(encoding="utf-8")
_CODE = re.compile(r"`([^`\n]+)`")
_PATH = re.compile(r"(?:\.ci|recipec|grammar|site|recipes|tests)(?:/[\w.\-]+)*/?(?:\.\w+)?")


def named_paths(text: str) -> list[str]:
    """Whatever stands in back quotes and looks like a path of this project."""
    words = (code for code in _CODE.findall(text) if _PATH.fullmatch(code) and "/" in code)
    return sorted({word for word in words if "SLUG" not in word})


@pytest.mark.parametrize("path", sorted({*named_paths(DEVELOPERS), *named_paths(README)}))
def test_every_named_path_is_there(path: str) -> None:
    assert (ROOT / path).exists(), f"{path} is named and does not exist"


def test_every_folder_is_on_the_map() -> None:
    rings = {f"recipec/{folder.name}/" for folder in (ROOT / "recipec").iterdir() if (folder / "__init__.py").exists()}
    tops = {"grammar/", "site/", "recipes/", "tests/"}
    missing = {folder for folder in rings | tops if f"`{folder}`" not in DEVELOPERS}
    assert not missing


def test_every_judge_of_safety_is_told_of() -> None:
    judges = {f"recipec/plan/{path.name}" for path in (ROOT / "recipec" / "plan").glob("safety_*.py")}
    assert judges <= set(named_paths(DEVELOPERS))


def test_the_map_is_in_ring_order() -> None:
    from tests.test_architecture import RINGS

    places = [DEVELOPERS.index(f"| `recipec/{ring}/`") for ring in RINGS if f"| `recipec/{ring}/`" in DEVELOPERS]
    assert places == sorted(places)
    assert len(places) >= 10


def shown_commands(text: str) -> list[str]:
    """`recipec …` lines in sh fences."""
    fences = re.findall(r"^```sh\n(.*?)^```", text, re.MULTILINE | re.DOTALL)
    lines = [line.split("  #")[0].strip() for fence in fences for line in fence.splitlines()]
    parts = [part.strip() for line in lines for part in line.split("&&")]
    return [part.removeprefix(".venv/bin/") for part in parts if part.removeprefix(".venv/bin/").startswith("recipec ")]


@pytest.mark.parametrize("command", sorted({*shown_commands(DEVELOPERS), *shown_commands(README)}))
def test_every_shown_command_works(command: str, tmp_path: Path) -> None:
    shutil.copytree(ROOT / "recipes", tmp_path / "recipes")
    words = shlex.split(command)
    done = subprocess.run(
        [sys.executable, "-m", *words],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        env={"PYTHONPATH": str(ROOT), "PATH": ""},
    )
    assert done.returncode == 0, done.stdout + done.stderr

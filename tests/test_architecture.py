"""Holds every import of the package to one table: the rings, and which file alone may use a third-party library."""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import pytest

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "recipec"

# Ring → the rings it may import. `watch` is the file watch.py; `` is the package's own __init__ and __main__.
RINGS: dict[str, set[str]] = {
    "base": set(),
    "syntax": {"base"},
    "measure": {"base"},
    "larder": {"base", "measure"},
    "model": {"base", "measure"},
    "analyse": {"base", "syntax", "measure", "larder", "model"},
    "plan": {"base", "measure", "larder", "model"},
    "emit": {"base", "measure", "larder", "model", "plan"},
    "report": {"base"},
    "book": {"base", "syntax", "measure", "larder", "model", "analyse", "plan", "emit"},
    "watch": {"base", "book", "report"},
    "cli": {"base", "measure", "larder", "model", "syntax", "plan", "emit", "report", "book", "watch", ""},
    "": {"base", "report", "book", "cli"},
}

# Library → where alone it may be imported: a folder, or one file.
LIBRARIES: dict[str, str | tuple[str, ...]] = {
    "lark": "syntax/",
    "interegular": "syntax/",
    "pint": "measure/",
    "babel": "measure/",
    "jinja2": "emit/",
    "markupsafe": "emit/",
    "typst": "emit/",
    "icalendar": "emit/",
    "platformdirs": "book/",
    "watchdog": "watch.py",
    "click": "cli/",
    "ortools": ("plan/packs_model.py", "plan/swaps_model.py", "plan/schedule_", "plan/solving.py"),
}

# Libraries too slow for the check of one dish: nowhere at the top of a module that such a check loads.
LAZY = {"lark", "interegular", "pint", "babel", "jinja2", "typst", "platformdirs", "watchdog", "ortools"}


class Import(NamedTuple):
    module: str
    line: int
    top: bool


def imports(path: Path) -> Iterator[Import]:
    tree = ast.parse(path.read_text(encoding="utf-8"), str(path))
    inside = {
        id(node)
        for function in ast.walk(tree)
        if isinstance(function, ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda)
        for node in ast.walk(function)
    }
    for node in ast.walk(tree):
        top = id(node) not in inside
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield Import(alias.name, node.lineno, top)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}:{node.lineno}: imports are written in full"
            assert node.module is not None
            # `from recipec.report import json` names a module, `from recipec.model.dish import Dish` does not.
            for alias in node.names:
                whole = PACKAGE.parent / f"{node.module}.{alias.name}".replace(".", "/")
                named = whole.with_suffix(".py").is_file() or whole.is_dir()
                yield Import(f"{node.module}.{alias.name}" if named else node.module, node.lineno, top)


# Lists of types with nothing to follow: read as a table, not as a text.
DECLARATIONS = {"syntax/tree.py"}

FILES = sorted(PACKAGE.rglob("*.py"))


def ring_of(path: Path) -> str:
    parts = path.relative_to(PACKAGE).parts
    if len(parts) > 1:
        return parts[0]
    return "watch" if parts[0] == "watch.py" else ""


def name_of(path: Path) -> str:
    return path.relative_to(PACKAGE).as_posix()


def test_every_folder_is_a_ring() -> None:
    folders = {path.parent.relative_to(PACKAGE).parts[0] for path in FILES if path.parent != PACKAGE}
    assert folders <= set(RINGS)


@pytest.mark.parametrize("path", FILES, ids=name_of)
def test_imports_go_only_to_the_rings_of_the_table(path: Path) -> None:
    ring = ring_of(path)
    for found in imports(path):
        parts = found.module.split(".")
        if parts[0] != "recipec":
            continue
        target = "" if len(parts) == 1 else parts[1]
        assert target == ring or target in RINGS[ring], f"{name_of(path)}:{found.line} imports {found.module}"


@pytest.mark.parametrize("path", FILES, ids=name_of)
def test_libraries_only_where_the_table_says(path: Path) -> None:
    for found in imports(path):
        library = found.module.split(".")[0]
        if library == "recipec" or library in sys.stdlib_module_names:
            continue
        assert library in LIBRARIES, f"{name_of(path)}:{found.line} imports {library}, which the table does not have"
        place = LIBRARIES[library]
        assert name_of(path).startswith(place), f"{library} belongs into {place} alone, not {name_of(path)}"


@pytest.mark.parametrize("path", FILES, ids=name_of)
def test_a_file_can_be_read_in_one_sitting(path: Path) -> None:
    if name_of(path) not in DECLARATIONS:
        assert len(path.read_text(encoding="utf-8").splitlines()) <= 480
    assert path.stem not in ("utils", "util", "helpers", "misc", "common")


@pytest.mark.parametrize("path", FILES, ids=name_of)
def test_no_global_that_changes(path: Path) -> None:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    for node in ast.walk(tree):
        assert not isinstance(node, ast.Global), f"{name_of(path)}:{node.lineno}"


def test_the_compiler_knows_no_clock_and_no_chance() -> None:
    """What papers say never depends on when or where they were made."""
    for path in FILES:
        if ring_of(path) in ("cli", "watch"):
            continue
        for found in imports(path):
            assert found.module.split(".")[0] not in ("time", "random", "locale", "uuid", "getpass"), name_of(path)
        text = path.read_text(encoding="utf-8")
        assert ".now(" not in text and ".today(" not in text, name_of(path)


def test_floats_nowhere_before_amounts_are_shown() -> None:
    for path in FILES:
        if ring_of(path) not in ("syntax", "measure", "larder", "model", "analyse", "plan"):
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            number = isinstance(node, ast.Constant) and isinstance(node.value, float)
            call = isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "float"
            assert not number and not call, f"{name_of(path)}:{getattr(node, 'lineno', 0)}"


def reached_from(start: str) -> set[Path]:
    """Files that importing a module loads, by imports at the top of modules."""
    todo, seen = [start], set()
    while todo:
        module = todo.pop()
        path = ROOT / (module.replace(".", "/") + ".py")
        path = path if path.is_file() else ROOT / module.replace(".", "/") / "__init__.py"
        if path in seen or not path.is_file():
            continue
        seen.add(path)
        todo += [found.module for found in imports(path) if found.top and found.module.startswith("recipec")]
    return seen


@pytest.mark.parametrize("start", ["recipec.cli.main", "recipec.cli.check"])
def test_a_check_of_one_dish_loads_no_heavy_library(start: str) -> None:
    for path in reached_from(start):
        for found in imports(path):
            assert not (found.top and found.module.split(".")[0] in LAZY), f"{name_of(path)} loads {found.module}"


def test_no_module_loads_the_solver_by_being_imported() -> None:
    for path in FILES:
        assert not any(
            found.top and found.module.startswith("ortools") and not typing_only(path, found.line)
            for found in imports(path)
        ), name_of(path)


def typing_only(path: Path, line: int) -> bool:
    """Whether a line stands under `if TYPE_CHECKING`."""
    return any(
        isinstance(node, ast.If)
        and isinstance(node.test, ast.Name)
        and node.test.id == "TYPE_CHECKING"
        and node.lineno <= line <= (node.end_lineno or 0)
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
    )


def test_only_lowering_makes_the_model() -> None:
    """No emitter and no plan reads source again: the tree ends in analyse/."""
    for path in FILES:
        if ring_of(path) in ("plan", "emit", "report", "watch"):
            assert not any(found.module.startswith("recipec.syntax") for found in imports(path)), name_of(path)

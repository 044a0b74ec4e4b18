"""Every page of the demo book against the HTML standard, by npm's html-validate and its recommended rules."""

from __future__ import annotations

import subprocess
from pathlib import Path

from node_tools import node_modules

CONFIG = '{"root": true, "extends": ["html-validate:recommended"]}'


def _check(folder: Path, tools: Path) -> subprocess.CompletedProcess[str]:
    (folder / ".htmlvalidate.json").write_text(CONFIG)
    command = [str(tools / ".bin" / "html-validate"), "--max-warnings=0", "**/*.html"]
    return subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)


def test_no_page_has_an_error(demo: Path) -> None:
    tools = node_modules("html-validate")
    assert len(list(demo.rglob("*.html"))) > 40
    result = _check(demo, tools)
    assert result.returncode == 0, result.stdout + result.stderr


def test_the_checker_would_tell(tmp_path: Path) -> None:
    tools = node_modules("html-validate")
    (tmp_path / "bad.html").write_text("<!DOCTYPE html><html><body><p><h1>Not closed</p></body></html>")
    assert _check(tmp_path, tools).returncode != 0

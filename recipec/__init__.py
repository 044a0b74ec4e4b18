"""recipec: a plain-text recipe language and its compiler.

The public API, all of it:

    compile_book(root) -> Build        read and check a whole book, the folder that holds `cookbook.toml`
    compile_files(paths) -> Build      the same for loose dishes that belong to no book
    write_build(build, out)            every paper of a compiled book into a folder, all or nothing
    report_text(findings) -> str       findings for people; `report_json`, `report_sarif` for programs

A mistake in a cook's file is never an exception: it is a `Finding` in `build.findings`, with its place, what is wrong
in plain words, and what to write instead. Each name is loaded when it is first used.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

__version__ = "0.1.0"

__all__ = [
    "Build",
    "Finding",
    "Severity",
    "__version__",
    "compile_book",
    "compile_files",
    "report_json",
    "report_sarif",
    "report_text",
    "write_build",
]

if TYPE_CHECKING:
    from recipec.base.finding import Finding, Severity
    from recipec.book.build import write_build
    from recipec.book.compile import Build, compile_book, compile_files
    from recipec.report.json import render as report_json
    from recipec.report.sarif import render as report_sarif
    from recipec.report.text import render as report_text


def __getattr__(name: str) -> object:
    from importlib import import_module

    places = {
        "Build": ("recipec.book.compile", "Build"),
        "Finding": ("recipec.base.finding", "Finding"),
        "Severity": ("recipec.base.finding", "Severity"),
        "compile_book": ("recipec.book.compile", "compile_book"),
        "compile_files": ("recipec.book.compile", "compile_files"),
        "report_json": ("recipec.report.json", "render"),
        "report_sarif": ("recipec.report.sarif", "render"),
        "report_text": ("recipec.report.text", "render"),
        "write_build": ("recipec.book.build", "write_build"),
    }
    if name not in places:
        raise AttributeError(f"module 'recipec' has no attribute {name!r}")
    module, attribute = places[name]
    return getattr(import_module(module), attribute)

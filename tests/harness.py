"""One `check_*` for each boundary of the compiler, so that tests state texts and results and never pin an API."""

from __future__ import annotations

from pathlib import Path

# ---------------------------------------------------------------- whole books

BOOKS = Path(__file__).with_name("books")


def check_book(case: str, out: Path, *, update: bool) -> None:
    """Builds `books/<case>/src` and compares with `books/<case>/expected`, file by file; a file too many fails too.

    Expected are the report, the names of all files a build writes (save the assets), and each card and market list as text. The look of
    pages is not pinned here.
    """
    folder = BOOKS / case
    made = _made(folder / "src", out)
    expected = folder / "expected"
    if update:
        _rewrite(expected, made)
    there = {path.relative_to(expected).as_posix(): path.read_text("utf-8") for path in expected.rglob("*.txt")}
    assert sorted(there) == sorted(made)
    for name, text in made.items():
        assert there[name] == text, f"{case}/expected/{name}"


def _made(source: Path, out: Path) -> dict[str, str]:
    from recipec.book.build import Faulty, write_build
    from recipec.book.compile import compile_book
    from recipec.book.files import MANIFEST
    from recipec.emit.card_text import card_text
    from recipec.emit.desk import sheet
    from recipec.emit.market_text import market_text
    from recipec.emit.paper import Request
    from recipec.plan.market import market
    from recipec.plan.styling import style_of
    from recipec.report.text import render

    build = compile_book(source)
    made = {"report.txt": render(build.findings)}
    outcome = write_build(build, out)
    if isinstance(outcome, Faulty):
        made["files.txt"] = f"nothing: {outcome.number} findings stand against it\n"
        assert not out.exists()
        return made
    written = (path.relative_to(out).as_posix() for path in out.rglob("*") if path.is_file())
    named = (name for name in written if name != MANIFEST and not name.startswith("assets/"))
    made["files.txt"] = "".join(f"{name}\n" for name in sorted(named))
    request = Request(build.book, build.larder, build.findings)
    for dish in build.book.dishes:
        made[f"cards/{dish.key}.txt"] = card_text(sheet(request, dish.key))
    for event in build.book.events:
        found = market(build.book, build.larder, (event.key,), style_of(build.book))
        made[f"market/{event.key}.txt"] = market_text(found)
    return made


def _rewrite(expected: Path, made: dict[str, str]) -> None:
    for path in expected.rglob("*.txt"):
        path.unlink()
    for name, text in made.items():
        (expected / name).parent.mkdir(parents=True, exist_ok=True)
        (expected / name).write_text(text, encoding="utf-8", newline="\n")


# ---------------------------------------------------------------- the syntax

SYNTAX = Path(__file__).with_name("syntax")


def check_syntax(path: Path, *, update: bool) -> None:
    """Reads one file and compares the printed tree and its findings with `name.kind.tree` beside it.

    Under `ok/` there are no findings; under `err/` there are some.
    """
    from recipec.base.source import decode
    from recipec.syntax.dump import dump
    from recipec.syntax.parse import parse

    kind = path.suffix[1:]
    assert kind in ("dish", "event", "kitchen")
    parsed = parse(decode(path.name, path.read_bytes()).source, kind)  # type: ignore[arg-type]
    made = dump(parsed.tree)
    for finding in parsed.findings:
        place = finding.span.position
        made += f"\n{finding.slug} {place.line}:{place.column} {finding.span.text!r}\n  {finding.message}\n"
        made += "".join(f"  hint: {hint}\n" for hint in finding.hints)
        made += "".join(f"  fix: {fix.span.text!r} -> {fix.replacement!r}, {fix.text}\n" for fix in finding.fixes)
    expected = path.with_name(path.name + ".tree")
    if update:
        expected.write_text(made, encoding="utf-8", newline="\n")
    assert expected.read_text("utf-8") == made
    assert bool(parsed.findings) == (path.parent.name == "err"), "files with findings belong in err/, all others in ok/"

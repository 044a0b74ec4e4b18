"""`recipec check`."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import click

from recipec import __version__
from recipec.base.finding import Finding
from recipec.book.compile import Overrides, against, check_book, compile_files
from recipec.book.files import absolute, find_book, kind_of, list_book
from recipec.cli import options
from recipec.cli.books import NO_BOOK, book_folder
from recipec.cli.output import colour_wanted, progress, put, shown_findings, tally


@click.command()
@click.argument("paths", nargs=-1, type=click.Path(path_type=Path, exists=True))
@click.option("--all", "hints", is_flag=True, help="List the hints too.")
@options.several(
    options.formats(["text", "json", "sarif"]),
    options.output,
    options.book,
    options.measures,
    options.lang,
    options.color,
    options.quiet,
)
def command(
    paths: tuple[Path, ...],
    hints: bool,
    form: str,
    output: Path | None,
    book: Path | None,
    measures: str | None,
    lang: str | None,
    color: str,
    quiet: bool,
) -> int:
    """Say what is wrong in PATHS, files or folders; in the whole book when none is named.

    Exit 1 when there are errors, or dangers that nobody has accepted.

    \b
    Example:
      recipec check soups/leek-soup.dish
    """
    findings, files = _gather(paths, book, Overrides(measures=measures, language=lang), quiet)
    listed = shown_findings(findings, hints=hints)
    if form == "text":
        from recipec.report.text import render

        put(render(listed, colour=output is None and colour_wanted(color)), output)
        if not quiet:
            if listed:
                click.echo(err=True)
            click.echo(tally(findings, files, hints_shown=hints), err=True)
    elif form == "json":
        from recipec.report.json import render as render_json

        put(render_json(listed), output)
    else:
        from recipec.report.sarif import render as render_sarif

        put(render_sarif(listed, __version__), output)
    return 1 if against(findings) else 0


def _gather(paths: Sequence[Path], given: Path | None, overrides: Overrides, quiet: bool) -> tuple[list[Finding], int]:
    """The findings wanted, and in how many files they were looked for."""
    findings: list[Finding] = []
    files = 0
    whole, wanted, loose = _sorted_out(paths, given)
    for root in sorted({*whole, *wanted}):
        checked = check_book(root, overrides=overrides, progress=progress(quiet))
        names = checked.names if root in whole else tuple(sorted(wanted[root]))
        findings += checked.findings if root in whole else checked.about(names)
        files += len(names)
    if loose:
        build = compile_files(loose, overrides=overrides)
        names = tuple(path.relative_to(build.root).as_posix() for path in loose)
        findings += build.about(names)
        files += len(names)
    return findings, files


def _sorted_out(paths: Sequence[Path], given: Path | None) -> tuple[set[Path], dict[Path, set[str]], list[Path]]:
    """Books to check whole, names wanted of others, and loose files."""
    whole: set[Path] = set()
    wanted: dict[Path, set[str]] = {}
    loose: set[Path] = set()
    if not paths:
        found = book_folder(given) if given is not None else find_book(Path.cwd())
        if found is not None:
            return {found}, {}, []
        paths = [Path.cwd()]
    for path in map(absolute, paths):
        root = book_folder(given) if given is not None else find_book(path)
        if root is not None and path == root:
            whole.add(root)
        elif root is not None and path.is_relative_to(root):
            name = path.relative_to(root).as_posix()
            inside = [one for one in list_book(root, {}).names if one == name or one.startswith(f"{name}/")]
            if not inside:
                raise click.UsageError(
                    f"{name} is nothing that a book is made of: no dish, event, kitchen or price list."
                )
            wanted.setdefault(root, set()).update(inside)
        elif path.is_dir():
            loose.update(path / name for name in list_book(path, {}).names if kind_of(name) is not None)
        elif kind_of(path.name) is not None:
            loose.add(path)
        else:
            raise click.UsageError(f"{path.name} is no dish, event or kitchen.")
    if not (whole or wanted or loose):
        raise click.UsageError(f"{NO_BOOK} Nor is there any dish.")
    return whole, wanted, sorted(loose)

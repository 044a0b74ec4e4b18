"""Remakes the pictures at the end of README.md from the demo book: `python -m tests.pictures`.

A dish as it is written, its card, and the first side of the market list it is on. Needs Chromium and pdftoppm (Debian:
chromium, poppler-utils). Fonts differ from machine to machine, so no test compares them.
"""

from __future__ import annotations

import html
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from recipec.book.build import write_build
from recipec.book.compile import compile_book
from recipec.book.write import Written

ROOT = Path(__file__).resolve().parent.parent
PICTURES = ROOT / ".pictures"
DISH = "salt-baked-beetroot"
EVENT = "late-winter-supper"
LARGEST = 250_000
"""Bytes of one picture: a reader of README.md may be on a train."""
DPI = 130

_POINTS = 11
_COLUMN = 0.602  # width of a letter of DejaVu Sans Mono in ems
_LINE = 1.45
_MARGIN = 22


def main() -> None:
    """All three, into `.pictures/`."""
    PICTURES.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as name:
        work = Path(name)
        out = work / "out"
        written = write_build(compile_book(ROOT / "recipes", cached=False), out)
        if not isinstance(written, Written):
            sys.exit(f"the demo book was not built: {written}")
        source = work / "dish.html"
        source.write_text(as_written((ROOT / "recipes" / "dishes" / f"{DISH}.dish").read_text("utf-8")), "utf-8")
        picture(source, "dish", work)
        picture(out / "cards" / f"{DISH}.html", "card", work)
        picture(out / "events" / EVENT / "market.html", "list", work)


def as_written(text: str) -> str:
    """A text on a sheet of just its size, black on white, every letter of one width."""
    lines = text.rstrip("\n").split("\n")
    width = max(map(len, lines)) * _COLUMN * _POINTS + 2 * _MARGIN
    height = len(lines) * _LINE * _POINTS + 2 * _MARGIN
    return f"""<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<title>A dish as it is written</title>
<style>
@page {{ size: {width + 2:.0f}pt {height + 2:.0f}pt; margin: {_MARGIN}pt; }}
pre {{ margin: 0; font: {_POINTS}pt/{_LINE} "DejaVu Sans Mono", monospace; }}
</style>
</head>
<body style="margin: 0"><pre>{html.escape(text)}</pre></body>
</html>
"""


def picture(page: Path, name: str, work: Path) -> None:
    """The first side of a printed page, in greys."""
    chromium = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    pdftoppm = shutil.which("pdftoppm")
    if chromium is None or pdftoppm is None:
        sys.exit("this needs Chromium and pdftoppm")
    printed = work / f"{name}.pdf"
    command = [
        chromium, "--headless=new", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer",
        f"--user-data-dir={work / 'profile'}", f"--print-to-pdf={printed}", page.as_uri(),
    ]  # fmt: skip
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    made = PICTURES / name
    drawing = [pdftoppm, "-r", str(DPI), "-gray", "-png", "-singlefile", "-l", "1", str(printed), str(made)]
    subprocess.run(drawing, check=True, capture_output=True, timeout=120)
    size = made.with_suffix(".png").stat().st_size
    if size > LARGEST:
        sys.exit(f"{name}.png is {size} bytes, and {LARGEST} are the most")


if __name__ == "__main__":
    main()

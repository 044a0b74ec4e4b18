"""What a PDF says and how large, read from its content streams by pikepdf: the way of a reading program, with nothing of ours."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from typing import Any, NamedTuple

import pikepdf

MM = 72 / 25.4
"""Points in a millimetre."""

_PAIR = re.compile(rb"<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>")
_TRIPLE = re.compile(rb"<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>")
_RANGES = re.compile(rb"beginbfrange(.*?)endbfrange", re.DOTALL)
_CHARS = re.compile(rb"beginbfchar(.*?)endbfchar", re.DOTALL)
Matrix = tuple[float, float, float, float, float, float]


class Run(NamedTuple):
    """Letters shown at once: on which page, in which face, how large in points; `artifact` when it is no part of the text."""

    page: int
    text: str
    face: str
    size: float
    artifact: bool


def opened(data: bytes) -> pikepdf.Pdf:
    """The file."""
    return pikepdf.open(io.BytesIO(data))


def runs(pdf: pikepdf.Pdf) -> list[Run]:
    """All that is shown, in the order of the streams."""
    return [run for number, page in enumerate(pdf.pages) for run in _page_runs(page, number)]


def said(pdf: pikepdf.Pdf) -> str:
    """The text, without white space, artifacts and case: words and figures in order."""
    return squeezed("".join(run.text for run in runs(pdf) if not run.artifact))


def squeezed(text: str) -> str:
    """A text as `said` gives it."""
    return "".join(text.casefold().split()).replace("\u00ad", "")


def faces(pdf: pikepdf.Pdf) -> dict[str, bool]:
    """Every face by name, and whether it is in the file."""
    found = {}
    for one in pdf.objects:
        if isinstance(one, pikepdf.Dictionary) and one.get("/Type") == "/FontDescriptor":
            inside = any(key in one for key in ("/FontFile", "/FontFile2", "/FontFile3"))
            found[str(one["/FontName"])] = inside
    return found


def cap_heights(pdf: pikepdf.Pdf) -> dict[str, float]:
    """How high capitals are, as a part of the size, by face."""
    return {
        str(one["/FontName"]): float(one["/CapHeight"]) / 1000
        for one in pdf.objects
        if isinstance(one, pikepdf.Dictionary) and one.get("/Type") == "/FontDescriptor"
    }


def _page_runs(page: pikepdf.Page, number: int) -> Iterator[Run]:
    fonts: dict[str, tuple[str, dict[bytes, str]]] = {}
    for name, font in page.obj.get("/Resources", {}).get("/Font", {}).items():
        below = (
            font["/DescendantFonts"][0]["/FontDescriptor"] if "/DescendantFonts" in font else font["/FontDescriptor"]
        )
        unicode = bytes(font["/ToUnicode"].read_bytes()) if "/ToUnicode" in font else b""
        fonts[name] = (str(below["/FontName"]), _unicode(unicode))
    matrix: Matrix = (1, 0, 0, 1, 0, 0)
    kept: list[Matrix] = []
    text_matrix: Matrix = matrix
    font, size = "", 0.0
    marks: list[tuple[bool, str | None]] = []
    for operands, operator in pikepdf.parse_content_stream(page):
        match str(operator):
            case "q":
                kept.append(matrix)
            case "Q":
                matrix = kept.pop()
            case "cm":
                matrix = _times(_matrix(operands), matrix)
            case "Tm":
                text_matrix = _matrix(operands)
            case "Tf":
                font, size = str(operands[0]), float(operands[1])
            case "BMC" | "BDC":
                actual = (
                    operands[1].get("/ActualText")
                    if len(operands) > 1 and isinstance(operands[1], pikepdf.Dictionary)
                    else None
                )
                marks.append((str(operands[0]) == "/Artifact", None if actual is None else str(actual)))
                if actual is not None:
                    yield Run(number, str(actual), fonts.get(font, ("", {}))[0], 0, any(one for one, _ in marks))
            case "EMC":
                marks.pop()
            case "Tj" | "TJ":
                if any(instead is not None for _, instead in marks):
                    continue
                parts: list[Any] = list(operands[0]) if str(operator) == "TJ" else [operands[0]]
                face, letters = fonts[font]
                text = "".join(_decoded(bytes(one), letters) for one in parts if isinstance(one, pikepdf.String))
                whole = _times(text_matrix, matrix)
                high = size * (whole[2] ** 2 + whole[3] ** 2) ** 0.5
                yield Run(number, text, face, high, any(one for one, _ in marks))


def _decoded(data: bytes, letters: dict[bytes, str]) -> str:
    return "".join(letters.get(data[place : place + 2], "\ufffd") for place in range(0, len(data), 2))


def _unicode(table: bytes) -> dict[bytes, str]:
    found: dict[bytes, str] = {}
    for block in _CHARS.findall(table):
        for code, text in _PAIR.findall(block):
            found[bytes.fromhex(code.decode())] = bytes.fromhex(text.decode()).decode("utf-16-be")
    for block in _RANGES.findall(table):
        for low, high, text in _TRIPLE.findall(block):
            first = bytes.fromhex(text.decode()).decode("utf-16-be")
            for step in range(int(high, 16) - int(low, 16) + 1):
                code = (int(low, 16) + step).to_bytes(2, "big")
                found[code] = first[:-1] + chr(ord(first[-1]) + step)
    return found


def _matrix(operands: Any) -> Matrix:
    a, b, c, d, e, f = (float(one) for one in operands)
    return a, b, c, d, e, f


def _times(one: Matrix, other: Matrix) -> Matrix:
    a, b, c, d, e, f = one
    g, h, i, j, k, m = other
    return (a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j, e * g + f * i + k, e * h + f * j + m)

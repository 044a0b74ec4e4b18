"""The one place that sets type: templates of `site/typst`, faces of `site/fonts`, and nothing of the machine.

A text of a cook's comes in as data and is never read as markup. The same job gives the same bytes: no day is written into a file, no
face of the system is looked at, nothing is fetched.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, TypeAlias

from recipec.base.places import site_dir
from recipec.emit.desk import size_named
from recipec.emit.pdf.forms import PRINTED
from recipec.emit.pdf.values import Plain
from recipec.emit.render import clean
from recipec.emit.request import Form
from recipec.measure.language import language_of
from recipec.model.settings import Settings

if TYPE_CHECKING:
    from typst import Compiler

_NONE: Mapping[str, bytes] = MappingProxyType({})
# `w("…")`, or `(k.w)("…")` where the words come along with other things.
_SAID = re.compile(r'\bw\)?\(\s*"((?:[^"\\]|\\.)*)"')
_DATA = "data.json"
_MAIN = b'#import "/%s": sheet\n#sheet(json("data.json"))\n'


@dataclass(frozen=True, slots=True)
class Job:
    """What one PDF is set from: a template of `site/typst`, its data as JSON, and pictures by the names the data has for them."""

    template: str
    data: bytes
    pictures: Mapping[str, bytes] = field(default_factory=lambda: _NONE)

    def mark(self) -> str:
        """Tells this job from any other, and from the same one by another press: the same mark means the same bytes."""
        digest = hashlib.sha256(press_mark())
        for name, data in (("", self.template.encode()), (_DATA, self.data), *sorted(self.pictures.items())):
            digest.update(b"%d %d " % (len(name), len(data)) + name.encode("utf-8") + data)
        return digest.hexdigest()


SetType: TypeAlias = Callable[[Job], bytes]
"""What makes a PDF of a job; it may look first whether it has one already."""


def job(form: Form, size: str = "") -> Job | None:
    """The printed form of a page, on the book's paper or another `size` (A4, A5 or Letter); None for a page that is not printed."""
    printed = PRINTED.get(form.template)
    if printed is None:
        return None
    title = form.context["page_title"]
    return made_job(
        printed.template, form.settings, str(title), printed.view(form.context, form.settings.language), size=size
    )


def made_job(
    template: str,
    settings: Settings,
    title: str,
    view: Mapping[str, Plain],
    *,
    size: str = "",
    pictures: Mapping[str, bytes] = _NONE,
) -> Job:
    """A job for a template of `site/typst`, with what every one of them is given beside its own view."""
    tag = language_of(settings.language).tag
    language, _, region = tag.partition("-")
    data = {
        **view,
        "page_title": clean(title),
        "author": clean(settings.author),
        "paper": size or size_named(settings.paper),
        "lang": language,
        "region": region if re.fullmatch("[A-Za-z]{2}", region) else None,
        "words": dict(_words(settings.language, template)),
    }
    return Job(template, json.dumps(data, ensure_ascii=False, separators=(",", ":")).encode("utf-8"), pictures)


def set_type(work: Job) -> bytes:
    """The PDF of a job."""
    # typst takes files by name, which its own types do not say yet.
    files: Any = {"main.typ": _MAIN % work.template.encode(), _DATA: work.data, **work.pictures}
    data = _compiler().compile(input=files, format="pdf")
    assert isinstance(data, bytes)
    return data


@cache
def press_mark() -> bytes:
    """Changes with typst, with any template and with any face."""
    from importlib.metadata import version

    digest = hashlib.sha256(version("typst").encode())
    for folder in ("typst", "fonts"):
        for file in sorted((site_dir() / folder).iterdir()):
            if file.suffix in (".typ", ".otf"):
                data = file.read_bytes()
                digest.update(b"%d %d " % (len(file.name), len(data)) + file.name.encode() + data)
    return digest.digest()


@cache
def _compiler() -> Compiler:
    # Loading faces and reading templates is most of the work of one card, so that one compiler serves all jobs. Two at once, each in a
    # thread, were measured slower than one: they wait for each other in typst's own memory of what it has set.
    from typst import Compiler, Fonts

    fonts = Fonts(include_system_fonts=False, include_embedded_fonts=True, font_paths=[str(site_dir() / "fonts")])
    return Compiler(root=str(site_dir() / "typst"), font_paths=fonts)


@cache
def _words(language: str, template: str) -> Mapping[str, str]:
    """What the template says, in the language, by the English; {} in English."""
    tongue = language_of(language)
    if tongue.words == "en":
        return MappingProxyType({})
    texts = [
        text.replace('\\"', '"')
        for name in ("pieces.typ", "base.typ", template)
        for text in _SAID.findall((site_dir() / "typst" / name).read_text(encoding="utf-8"))
    ]
    said = {text: tongue.say(text) for text in sorted(set(texts))}
    return MappingProxyType({text: other for text, other in said.items() if other != text})

"""The whole book as one PDF: cover, contents, every course with its dishes, and the index of ingredients."""

from __future__ import annotations

import base64

from recipec.emit.cookbook import Chapter, chapters, letters, much
from recipec.emit.desk import Desk
from recipec.emit.event_page import course_text
from recipec.emit.pdf.dish import dish
from recipec.emit.pdf.press import Job, made_job
from recipec.emit.pdf.values import Plain, plain
from recipec.emit.request import Photo
from recipec.emit.when import day_text
from recipec.plan.sheet import DishSheet

BOOK = "book.pdf"


def book_job(desk: Desk, size: str = "") -> Job:
    """The job of `book.pdf`. A client's copy has its evening's menu and the chef's note before the contents."""
    keys = {desk.paths.dish(key): key for key in desk.sheets}
    all_chapters = chapters(desk)
    photos = {key: f"photo-{place}.svg" for place, key in enumerate(desk.sheets) if key in desk.request.photos}
    settings = desk.book.settings
    view: dict[str, Plain] = {
        "title": plain(settings.title),
        "note": plain(settings.note),
        "client": desk.client,
        "menu": _menu(desk),
        "chapters": [_chapter(desk, chapter, keys, photos) for chapter in all_chapters],
        "letters": [
            {
                "name": letter.name,
                "entries": [
                    {"name": plain(entry.name), "dishes": [[plain(one.title), one.href] for one in entry.dishes]}
                    for entry in letter.entries
                ],
            }
            for letter in letters(desk)
        ],
    }
    pictures = {name: _wrapped(desk.request.photos[key]) for key, name in photos.items()}
    return made_job("book.typ", settings, settings.title, view, size=size, pictures=pictures)


def _wrapped(photo: Photo) -> bytes:
    # typst takes files of a job as text alone: a picture goes in inside a drawing of its own size.
    kind = "jpeg" if photo.ending == "jpg" else photo.ending
    inside = base64.b64encode(photo.data).decode("ascii")
    size = f'width="{photo.width}" height="{photo.height}"'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" {size}><image {size} href="data:image/{kind};base64,{inside}"/></svg>'
    ).encode("ascii")


def _menu(desk: Desk) -> Plain:
    if not desk.client:
        return None
    event = desk.book.events[0]
    return {
        "title": plain(event.title),
        "when": day_text(event.serve.date(), desk.tongue.code) if event.serve else "",
        "prose": plain(event.prose),
        "courses": [
            {
                "name": plain(course.name),
                "paragraphs": [
                    {"listing": one.listing, "bits": [[plain(bit.text), bit.is_dish] for bit in one.bits]}
                    for one in course.paragraphs
                ],
            }
            for course in (course_text(desk, one) for one in event.courses)
        ],
    }


def _chapter(desk: Desk, chapter: Chapter, keys: dict[str, str], photos: dict[str, str]) -> Plain:
    return {
        "name": plain(chapter.name),
        "dishes": [
            _dish(desk, desk.sheets[keys[one.href]], one.href, photos.get(keys[one.href], "")) for one in chapter.dishes
        ],
    }


def _dish(desk: Desk, sheet: DishSheet, href: str, photo: str) -> Plain:
    return {**dish(sheet, much(sheet), desk.tongue), "id": href, "photo": photo}

"""The catalogues of words: each has every message, once, with the same placeholders, and nothing that nobody asks for."""

from __future__ import annotations

import re

import pytest
from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po

from recipec.base.places import site_dir
from recipec.measure.language import catalogues, language_of
from tests.languages.messages import Message, messages

LANGUAGES = sorted(catalogues())
_PLACEHOLDER = re.compile(r"%\(\w+\)s|%%")
_BEFORE = re.compile(r"[^\s\u00a0\u202f(](?=[:;!?](?:\s|$))|[\u00a0 ](?=[;!?](?:\s|$))")
"""In French a no-break space stands before a colon, a narrow one before the other three."""


def catalogue(language: str) -> Catalog:
    """As it is on the disk, with whatever is fuzzy."""
    with (site_dir() / "words" / f"{language}.po").open("rb") as file:
        return read_po(file, locale=language, abort_invalid=True)


def translated(language: str) -> dict[tuple[str, str], tuple[str, ...]]:
    """Context and English → what it is there."""
    found: dict[tuple[str, str], tuple[str, ...]] = {}
    for message in catalogue(language):
        if message.id:
            single = message.id if isinstance(message.id, str) else message.id[0]
            texts = (message.string,) if isinstance(message.string, str) else tuple(message.string or ())
            found[message.context or "", single] = texts
    return found


def asked() -> dict[tuple[str, str], Message]:
    """All that code and templates ask for."""
    return {(message.context, message.one): message for message in messages()}


def test_there_are_german_and_french() -> None:
    assert LANGUAGES == ["de", "fr"]


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_message_is_translated_and_none_is_left_from_before(language: str) -> None:
    assert set(translated(language)) == set(asked())


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_translation_is_empty_or_doubtful(language: str) -> None:
    for message in catalogue(language):
        if message.id:
            assert not message.fuzzy, message.id
            assert all(message.string if isinstance(message.string, str) else message.string or ()), message.id


@pytest.mark.parametrize("language", LANGUAGES)
def test_placeholders_and_blanks_at_the_ends_are_the_same(language: str) -> None:
    for (context, one), texts in translated(language).items():
        for text in texts:
            assert sorted(_PLACEHOLDER.findall(text)) == sorted(_PLACEHOLDER.findall(one)), (context, one, text)
            assert text[-1:].isspace() == one[-1:].isspace() or text == " ", (context, one, text)


@pytest.mark.parametrize("language", LANGUAGES)
def test_what_has_a_plural_has_both_forms(language: str) -> None:
    known = translated(language)
    for key, message in asked().items():
        assert len(known[key]) == (2 if message.many else 1), key


@pytest.mark.parametrize("language", LANGUAGES)
def test_plurals_are_counted_as_cldr_counts_them(language: str) -> None:
    tongue = language_of(language)
    catalog = catalogue(language)
    assert catalog.num_plurals == 2
    # A language of one plural: the forms of the file and the bound of the code must agree.
    assert [tongue.counts(number) for number in (0, 1, 2)] == {
        "n != 1": [True, False, True],
        "n > 1": [False, False, True],
    }[catalog.plural_expr.strip("()")]


def test_quotation_marks_are_those_of_the_language() -> None:
    german = [text for texts in translated("de").values() for text in texts]
    french = [text for texts in translated("fr").values() for text in texts]
    assert not [text for text in german + french if '"' in text or "'" in text]
    assert not [text for text in german if "”" in text or "«" in text or text.count("„") != text.count("“")]
    assert not [text for text in french if re.search("[„“”]|«[^\u202f]|[^\u202f]»", text)]


def test_french_has_its_spaces_before_signs() -> None:
    texts = [text for texts in translated("fr").values() for text in texts if "`" not in text]
    assert not [text for text in texts if _BEFORE.search(text)]

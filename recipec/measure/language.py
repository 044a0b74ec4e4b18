"""The language of what people read: its decimal mark, its plurals, and its words for ours.

English is what stands in the code. For every other language there is one catalogue of all words of the papers and the site,
`site/words/<language>.po` (the gettext format), in which the English text is the key. English loads no catalogue.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal
from fractions import Fraction
from functools import cache
from types import MappingProxyType

from recipec.base.places import site_dir

_Key = tuple[str, str]
_NONE: Mapping[_Key, tuple[str, ...]] = MappingProxyType({})


class Language:
    """A language as a book names it (`en`, `de-AT`), and the catalogue that serves it: `words` is its language, `en` where we have none.

    `mark` is the decimal mark by CLDR. `several` is the least amount that takes a plural in the words' language, and that amount itself
    does not where `beyond` is set: more than one in English and German, two and more in French.
    """

    # A data class would cost every check of a dish a millisecond to make.
    __slots__ = ("_beyond", "_messages", "_several", "code", "mark", "words")

    def __init__(
        self,
        code: str,
        words: str = "en",
        mark: str = ".",
        several: int = 1,
        beyond: bool = True,
        messages: Mapping[_Key, tuple[str, ...]] = _NONE,
    ) -> None:
        self.code = code
        self.words = words
        self.mark = mark
        self._several = several
        self._beyond = beyond
        self._messages = messages

    @property
    def tag(self) -> str:
        """What a text in these words is declared as (BCP 47)."""
        return self.code if self.code.partition("-")[0] == self.words else self.words

    def listed(self, names: Iterable[str]) -> str:
        """`a, b and c`."""
        *others, last = tuple(names) or ("",)
        return f"{', '.join(others)}{self.say(' and ')}{last}" if others else last

    def either(self, names: Iterable[str]) -> str:
        """`a or b or c`."""
        return self.say(" or ").join(names)

    def many(self, number: Fraction | int) -> bool:
        """Whether so many of a thing take its plural: 1½ in English, not in French; a half never."""
        return number > self._several if self._beyond else number >= self._several

    def counts(self, number: Fraction | int) -> bool:
        """The same of a bare figure: `0 plates`, `0.5 plates`, and in French `0,5 portion`."""
        return number != 1 if self._beyond else self.many(number)

    def say(self, message: str, /, *, context: str = "", **values: object) -> str:
        """A sentence of ours in this language, with `%(name)s` filled in. `context` tells apart English words that are one there and two
        elsewhere."""
        found = self._messages.get((context, message))
        if not found or not found[0]:
            return message % values if values else message
        return _filled(found[0], values)

    def count(self, one: str, many: str, number: Fraction | int, /, *, context: str = "", **values: object) -> str:
        """The same of a sentence that has a number in it: `number` settles which of the two forms."""
        return self.form(one, many, self.many(number), context=context, **values)

    def form(self, one: str, many: str, several: bool, /, *, context: str = "", **values: object) -> str:
        """As `count`, where it is known already which form."""
        found = self._messages.get((context, one))
        if not found or not all(found):
            text = many if several else one
            return text % values if values else text
        return _filled(found[-1 if several else 0], values)


def _filled(text: str, values: Mapping[str, object]) -> str:
    # A unit such as `Min.` has a full stop of its own, which ends a sentence too.
    return (text % values).replace("..", ".") if values else text


ENGLISH = Language("en")


@cache
def language_of(code: str) -> Language:
    """The language that a book names; one that CLDR does not know is written as English."""
    if code == "en":
        return ENGLISH
    from babel import Locale, UnknownLocaleError
    from babel.numbers import get_decimal_symbol

    try:
        locale = Locale.parse(code, sep="-")
    except (UnknownLocaleError, ValueError):
        return ENGLISH
    mark: str = get_decimal_symbol(locale)
    words = locale.language if locale.language in catalogues() else "en"
    if words == "en":
        return Language(code, words, mark)
    # Whether one and a half is one or several is CLDR's to say.
    half_more: str = Locale(words).plural_form(Decimal("1.5"))
    beyond = half_more != "one"
    return Language(code, words, mark, 1 if beyond else 2, beyond, _messages(words))


@cache
def catalogues() -> frozenset[str]:
    """The languages that there are words for, beside English."""
    return frozenset(file.stem for file in (site_dir() / "words").glob("*.po"))


def _messages(words: str) -> Mapping[_Key, tuple[str, ...]]:
    from babel.messages.pofile import read_po

    with (site_dir() / "words" / f"{words}.po").open("rb") as file:
        catalogue = read_po(file, locale=words, abort_invalid=True)
    found: dict[_Key, tuple[str, ...]] = {}
    for message in catalogue:
        if message.id and not message.fuzzy:
            single = message.id if isinstance(message.id, str) else message.id[0]
            texts = (message.string,) if isinstance(message.string, str) else tuple(message.string or ())
            found[message.context or "", single] = texts
    return MappingProxyType(found)

"""The languages that documents can be written in: the catalogues that ship."""

import gettext
import io
from functools import cache

from babel import Locale, UnknownLocaleError
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po

from lacet.language import Language
from lacet.language.language import SOURCE_LANGUAGE
from lacet.resources import resource
from lacet.trip.errors import LacetError
from lacet.wording import Wording

CATALOGUE = "languages/{language}/LC_MESSAGES/lacet.po"
_USUAL_PLACE = {"en": "en_GB", "de": "de_DE"}


class LanguageRefused(LacetError):
    """A language in which documents can't be written."""


def language(tag: str = SOURCE_LANGUAGE, *, imperial: bool = False) -> Language:
    """The language of a tag (BCP 47), such as 'de' or 'en-US'.

    Raises
    ------
    LanguageRefused
        When the tag is none, or no catalogue of that language ships.
    """
    try:
        locale = Locale.parse(tag.strip().replace("-", "_"))
    except (ValueError, UnknownLocaleError):
        raise _refused(tag) from None
    texts = _catalogue(locale.language)
    if texts is None:
        raise _refused(tag)
    named = str(locale) if locale.territory else _USUAL_PLACE.get(locale.language, locale.language)
    return Language(
        tag=named.replace("_", "-") if locale.territory else locale.language,
        direction=locale.text_direction,
        wording=Wording(named, imperial),
        _texts=texts,
    )


@cache
def languages() -> tuple[tuple[str, str], ...]:
    """(tag, name of the language in itself) of all languages that documents can be written in."""
    folder = resource("languages")
    tags = sorted({SOURCE_LANGUAGE, *(each.name for each in folder.iterdir() if each.is_dir())})
    return tuple((tag, Locale.parse(tag).get_display_name() or tag) for tag in tags)


@cache
def _catalogue(name: str) -> gettext.NullTranslations | None:
    if name == SOURCE_LANGUAGE:
        return gettext.NullTranslations()
    try:
        source = resource(CATALOGUE.format(language=name))
    except FileNotFoundError:
        return None
    packed = io.BytesIO()
    # The readable catalogue ships; what gettext reads is made from it in memory, in a few milliseconds.
    with source.open("rb") as written:
        write_mo(packed, read_po(written, locale=name))
    packed.seek(0)
    return gettext.GNUTranslations(packed)


def _refused(tag: str) -> LanguageRefused:
    known = ", ".join(f"{each} ({name})" for each, name in languages())
    return LanguageRefused("Documents can't be written in '{tag}'; there is {known}.", tag=tag, known=known)

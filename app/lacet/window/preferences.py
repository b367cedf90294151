"""What this person set for themselves on this machine: units, and the language of numbers and dates.

What belongs to the office (its name, its rules) is kept in the project, where colleagues see it too.
"""

from PySide6.QtCore import QLocale, QSettings

from lacet.wording import ENGLISH, Wording

_LANGUAGE, _UNITS = "speech/language", "speech/units"
IMPERIAL, METRIC = "imperial", "metric"


def kept_wording() -> Wording:
    """How this person wants figures said; English and metric until they chose."""
    settings = QSettings()
    language = str(settings.value(_LANGUAGE, ENGLISH.language))
    return Wording(language, imperial=settings.value(_UNITS, METRIC) == IMPERIAL)


def keep_wording(wording: Wording) -> None:
    """Remember how figures are said."""
    settings = QSettings()
    settings.setValue(_LANGUAGE, wording.language)
    settings.setValue(_UNITS, IMPERIAL if wording.imperial else METRIC)


def languages() -> list[tuple[str, str]]:
    """(code, 'German (Austria)') of every language and territory that figures can be said in, by name.

    Qt knows the names a hundred times faster than Babel, which knows the figures.
    """
    from babel.localedata import locale_identifiers

    found = []
    for code in locale_identifiers():
        locale = QLocale(code)
        if code.count("_") == 1 and locale.name() == code:
            language = QLocale.languageToString(locale.language())
            found.append((code, f"{language} ({QLocale.territoryToString(locale.territory())})"))
    return sorted(found, key=lambda each: each[1])

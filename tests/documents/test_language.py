"""Documents in other languages: every marked text has a translation, and figures follow the locale."""

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal
from importlib.resources.abc import Traversable
from pathlib import Path
from string import Formatter

import pytest
from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_dir
from babel.messages.pofile import read_po

import lacet.documents
import lacet.language
import lacet.trip
from lacet.documents.language import CATALOGUE, LanguageRefused, language, languages
from lacet.documents.pack.directions import directions
from lacet.figures.leg_line import leg_line
from lacet.language import begun
from lacet.resources import resource
from lacet.trip.library import Ref, Stage
from lacet.trip.money import Money
from lacet.trip.trip import Leg
from lacet.trip.words import Way
from tests.documents.material.island import island, proposal

SOURCES = Path(lacet.documents.__file__).parent
BELOW = (Path(lacet.language.__file__).parent, Path(lacet.trip.__file__).parent)
MARKS: dict[str, tuple[int, ...] | None] = {"say": None, "many": (1, 2), "marked": None}
OTHERS = [tag for tag, _ in languages() if tag != "en"]

Text = str | tuple[str, ...]


def marked_texts() -> list[Text]:
    """Every text that is marked for translation anywhere in the documents, once."""
    found = [
        each
        for folder in (SOURCES, *BELOW)
        for each in extract_from_dir(folder, method_map=[("**.py", "python")], keywords=MARKS)
    ]
    return list(dict.fromkeys(message for _, _, message, _, _ in found))


def catalogue(tag: str) -> Catalog:
    source: Traversable = resource(CATALOGUE.format(language=tag))
    with source.open("rb") as written:
        return read_po(written, locale=tag)


def parts(text: str) -> set[str]:
    return {name for _, name, _, _ in Formatter().parse(text) if name is not None}


def forms(text: str | Sequence[str] | None) -> tuple[str, ...]:
    return (text,) if isinstance(text, str) else tuple(text or ())


def test_there_is_another_language_and_many_texts() -> None:
    assert "de" in OTHERS
    assert len(marked_texts()) > 250


def test_no_text_is_marked_within_a_formatted_string() -> None:
    """Python before 3.12 hides what stands in an f-string from whoever gathers marked texts."""
    hidden = re.compile(r"\{[\w.]*\b(?:say|many|marked)\(")
    found = [path.name for path in SOURCES.rglob("*.py") if hidden.search(path.read_text(encoding="utf-8"))]
    assert found == []


@pytest.mark.parametrize("tag", OTHERS)
def test_every_marked_text_has_a_translation_with_the_same_parts(tag: str) -> None:
    known = catalogue(tag)
    for text in marked_texts():
        source = forms(text)
        message = known.get(source[0])
        assert message is not None, f"{text!r} has no translation"
        assert forms(message.id) == source
        said = forms(message.string)
        assert len(said) == len(source)
        # A singular may leave the count out, as the source's does; no form may ask for more than there is.
        for one, other in zip(source, said, strict=True):
            assert other.strip(), f"{text!r} has an empty translation"
            assert parts(other) == parts(one), f"{text!r}: {other!r}"


@pytest.mark.parametrize("tag", OTHERS)
def test_no_translation_is_left_over_or_in_doubt(tag: str) -> None:
    marked_ids = {forms(text)[0] for text in marked_texts()}
    for message in catalogue(tag):
        if message.id:
            assert forms(message.id)[0] in marked_ids, f"nothing says {message.id!r} any more"
            assert not message.fuzzy


def test_a_german_proposal_is_german_all_over() -> None:
    german, english = proposal(tag="de"), proposal()
    assert (german.language, german.direction) == ("de", "ltr")
    assert german.cover.line == "The Alder party · vier Gäste · 8.–16. Mai 2027"
    assert german.days[4].ways[0].clock == "Aufbruch um 9:30, Ankunft gegen 12:15."
    assert german.days[8].title == "Von Northfold nach Brack Harbour"
    assert german.price.total.endswith("€")
    same = {key for key, text in german.words.items() if text == english.words[key]}
    assert same == set()


def test_figures_follow_the_locale_and_stay_the_same_figures() -> None:
    german = {fact.name: fact.value for fact in proposal(tag="de").days[4].ways[0].facts}
    english = {fact.name: fact.value for fact in proposal().days[4].ways[0].facts}
    assert german["Strecke"] == english["Distance"].replace(".", ",") == "23,5 km"


def test_counts_are_words_to_twelve_and_figures_after() -> None:
    speech = language("de")
    assert [speech.many("{count} day", "{count} days", count) for count in (1, 2, 12, 13)] == [
        "1 Tag", "zwei Tage", "zwölf Tage", "13 Tage",
    ]  # fmt: skip


def test_dates_money_and_lists_follow_the_language() -> None:
    english, german = language(), language("de")
    on, money = date(2027, 5, 8), Money(Decimal("1482.00"), "EUR")
    assert (english.weekday(on), german.weekday(on)) == ("Saturday 8 May", "Samstag, 8. Mai")
    assert english.weekday(None) == ""
    assert (english.day(on), german.day(on)) == ("8 May 2027", "8. Mai 2027")
    assert re.sub(r"\s", " ", english.dates(on, date(2027, 6, 2))) == "8 May – 2 Jun 2027"
    assert english.money(money, starting=True) == "from €1,482.00"
    assert german.money(money, starting=True) == "ab 1.482,00\xa0€"
    assert english.listed(["Ann", "Ben", "Cleo"]) == "Ann, Ben and Cleo"
    assert german.listed(["Ann", "Ben", "Cleo"]) == "Ann, Ben und Cleo"
    assert english.listed([]) == ""


def test_clock_times_that_are_estimates_are_told_to_five_minutes() -> None:
    speech = language()
    assert speech.about(13 * 3600 + 46 * 60) == "13:45"
    assert speech.clock(13 * 3600 + 46 * 60) == "13:46"
    assert speech.about(24 * 3600 - 60) == "0:00 the next day"
    assert speech.about(None) == "–"


def test_braces_people_write_stay_text() -> None:
    assert (
        language().say("You wrote: “{wish}”", wish="{count} {0} %s {wish}")
        == "You wrote: “{count} {0} %s {wish}”"
    )


def test_american_readers_get_their_dates_and_miles() -> None:
    speech = language("en-US", imperial=True)
    assert speech.tag == "en-US"
    assert speech.day(date(2027, 5, 8)) == "May 8, 2027"
    assert speech.wording.length(1609.344) == "1.0 mi"


@pytest.mark.parametrize("tag", ["", "xx", "tlh-Latn", "../de", "fr", "a" * 300])
def test_a_language_nobody_translated_is_refused_in_a_sentence(tag: str) -> None:
    with pytest.raises(LanguageRefused, match=re.escape("there is de (Deutsch), en (English).")):
        language(tag)


def test_a_sentence_begins_with_a_large_letter_and_stays_as_it_is() -> None:
    assert begun("die Küche von McRae") == "Die Küche von McRae"
    assert begun("") == ""


def test_derived_directions_are_told_in_the_language_and_written_ones_as_written() -> None:
    stage = island().latest(Stage, "harbour-shore-to-oster")
    assert stage is not None
    leg = Leg(id="i1", stage=Ref(stage.id, stage.version), way=Way.WALKING)
    out, back = leg_line(island(), leg), leg_line(island(), replace(leg, backward=True))
    assert out is not None
    assert back is not None
    german = directions(out, "Port Verrin", "Oster", language("de"))
    assert german.steps[0].says == stage.cues[0].says
    bare = replace(out, stage=replace(stage, cues=()))
    derived = directions(bare, "Port Verrin", "Oster", language("de"))
    assert derived.steps[0].says.startswith("Verlassen Sie Port Verrin in Richtung ")
    assert derived.steps[-1].says == "Sie erreichen Oster."
    assert {step.compass for step in derived.steps[:-1]} <= {
        "Norden", "Nordosten", "Osten", "Südosten", "Süden", "Südwesten", "Westen", "Nordwesten",
    }  # fmt: skip
    english = directions(bare, "Port Verrin", "Oster")
    assert [step.at_m for step in derived.steps] == [step.at_m for step in english.steps]

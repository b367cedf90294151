"""Texts as values: what stands in them stays data, and each language says it its own way."""

import ast
import gettext
import pickle
from collections.abc import Iterator
from datetime import date, time
from decimal import Decimal
from pathlib import Path
from string import Formatter

import pytest

import lacet
from lacet.documents.language import language
from lacet.language import ENGLISH_SPEECH, Language, Text, in_english, to_count, to_say
from lacet.language.language import BEGUN, HOW
from lacet.trip.errors import LacetError
from lacet.trip.money import Money
from lacet.trip.words import Way
from lacet.wording import Wording, speaking
from tests.language.gathered import calls_of_texts, refusals

SOURCES = Path(lacet.__file__).parent


class _Swapped(gettext.NullTranslations):
    """A catalogue that turns a sentence round, as many languages would."""

    def gettext(self, message: str) -> str:
        return {"{away_m:length} from {here} to {lodging}.": "{lodging}: {away_m:length} ({here})"}.get(
            message, message
        )

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        return {1: "eine Nacht", 2: "beide Nächte"}.get(n, "{count} Nächte")


OTHER = Language("de", "ltr", Wording("de_DE"), _Swapped())
AWAY = to_say(
    "{away_m:length} from {here} to {lodging}.", away_m=1830.0, here="Lime {Cove}", lodging="Tarn Inn"
)


def test_a_text_is_said_in_english_and_turned_round_in_another_language() -> None:
    assert str(AWAY) == "1.8 km from Lime {Cove} to Tarn Inn."
    assert OTHER.say(AWAY) == "Tarn Inn: 1,8 km (Lime {Cove})"
    assert in_english(Wording(imperial=True)).say(AWAY) == "1.1 mi from Lime {Cove} to Tarn Inn."
    with speaking(Wording(imperial=True)):
        assert str(AWAY).startswith("1.1 mi")
    assert AWAY.named == {"away_m": 1830.0, "here": "Lime {Cove}", "lodging": "Tarn Inn"}


def test_a_count_decides_between_the_forms_of_each_language() -> None:
    nights = [to_count("{count} night", "{count} nights", count) for count in (1, 2, 7)]
    assert [str(each) for each in nights] == ["1 night", "2 nights", "7 nights"]
    assert [OTHER.say(each) for each in nights] == ["eine Nacht", "beide Nächte", "7 Nächte"]


@pytest.mark.parametrize(
    ("pattern", "value", "english", "german"),
    [
        ("{it:length}", None, "–", "–"),
        ("{it:height}", 540.4, "540 m", "540 m"),
        ("{it:spot}", 342.4, "342 m", "342 m"),
        ("{it:away}", 340.0, "340 m", "340 m"),
        ("{it:duration}", 15_600.0, "4 h 20", "4 h 20"),
        ("{it:clock}", 50_700.0, "14:05", "14:05"),
        ("{it:clock}", 90_600.0, "1:10 the next day", "1:10 am nächsten Tag"),
        ("{it:share}", 0.48, "48 %", "48 %"),
        ("{it:day}", date(2027, 5, 8), "8 May", "8. Mai"),
        ("{it:date}", date(2027, 5, 8), "8 May 2027", "8. Mai 2027"),
        ("{it:weekday}", date(2027, 5, 8), "Saturday 8 May", "Samstag, 8. Mai"),
        ("{it:month}", 5, "May", "Mai"),
        ("{it:money}", Money(Decimal(12), "EUR"), "€12.00", "12,00\xa0€"),
        ("{it}", Money(Decimal(12), "EUR"), "€12.00", "12,00\xa0€"),
        ("{it}", ("Ann", "Ben", "Cleo"), "Ann, Ben and Cleo", "Ann, Ben und Cleo"),
        ("{it:any}", ("Ann", "Ben", "Cleo"), "Ann, Ben or Cleo", "Ann, Ben oder Cleo"),
        ("{it:lines}", ("Ann", to_say("{a}!", a="Ben")), "Ann; Ben!", "Ann; Ben!"),
        ("{it}", to_say("two"), "two", "zwei"),
        ("{it:begun}", to_say("two"), "Two", "Zwei"),
        ("{it}", time(7, 30), "07:30", "07:30"),
        ("{it}", Way.WALKING, "walking", "walking"),
        ("{it:.2f}", 3.14159, "3.14", "3.14"),
        ("{it!r}", "x", "'x'", "'x'"),
        ("{it}", None, "–", "–"),
    ],
)
def test_each_sort_of_value_is_said_by_the_language(
    pattern: str, value: object, english: str, german: str
) -> None:
    said = to_say(pattern, it=value)
    assert ENGLISH_SPEECH.say(said) == english
    assert language("de").say(said) == german


def test_a_text_without_values_is_said_as_it_is() -> None:
    assert str(to_say("{not a part}")) == "{not a part}"
    assert ENGLISH_SPEECH.sentence(to_say("{who} goes.", who="everybody")) == "Everybody goes."


def test_a_refusal_carries_its_pattern_and_its_values() -> None:
    refusal = LacetError("There is no trip '{name}'.", name="A {b}")
    assert str(refusal) == "There is no trip 'A {b}'."
    assert refusal.says == Text("There is no trip '{name}'.", (("name", "A {b}"),))
    again = pickle.loads(pickle.dumps(refusal))
    assert (type(again), str(again)) == (LacetError, str(refusal))
    assert str(LacetError("{as it is}")) == "{as it is}"


def test_every_text_is_written_out_where_it_is_marked() -> None:
    """What is put together before it is marked can't be translated."""
    glued = [
        f"{path.relative_to(SOURCES)}:{call.lineno}"
        for path, call in calls_of_texts(SOURCES)
        if call.args and isinstance(call.args[0], ast.JoinedStr | ast.BinOp)
    ]
    assert glued == []


def test_every_part_of_a_pattern_has_a_value_and_a_known_way_to_say_it() -> None:
    wrong = [
        f"{path.relative_to(SOURCES)}:{call.lineno} {pattern!r}"
        for path, call in calls_of_texts(SOURCES)
        for pattern in _patterns(call)
        if not _sound(pattern, call)
    ]
    assert wrong == []


def test_refusals_are_many_and_all_found() -> None:
    assert {"LacetError", "EditRefused", "StoreError", "FileMissing"} <= refusals(SOURCES)
    assert sum(1 for _ in calls_of_texts(SOURCES)) > 200


def _patterns(call: ast.Call) -> Iterator[str]:
    for each in call.args[: 2 if ast.unparse(call.func) == "to_count" else 1]:
        if isinstance(each, ast.Constant) and isinstance(each.value, str):
            yield each.value


def _sound(pattern: str, call: ast.Call) -> bool:
    values = {each.arg for each in call.keywords}
    if None in values or (not values and ast.unparse(call.func) != "to_count"):
        return True
    values |= {"count"} if ast.unparse(call.func) == "to_count" else set()
    parts = [(name, how or "") for _, name, how, _ in Formatter().parse(pattern) if name is not None]
    return all(name in values and _known(how) for name, how in parts)


def _known(how: str) -> bool:
    plain = how.removesuffix(BEGUN).rstrip()
    return plain in HOW or not plain.isalpha()

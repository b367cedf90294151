"""Opening hours said in a sentence."""

from __future__ import annotations

from datetime import date

import pytest

from lacet.days.hours import opening
from lacet.days.opening import sentence
from lacet.days.opening_words import times_of


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Tu-Su 18:00-22:00", "open daily 18:00 to 22:00, closed on Mondays"),
        ("18:00-22:00", "open daily 18:00 to 22:00"),
        ("24/7", "open daily day and night"),
        ("off", "closed"),
        ("Sa-Su 10:00-16:00", "open Saturdays and Sundays 10:00 to 16:00"),
        ("Fr-Sa 18:00-02:00", "open Fridays and Saturdays 18:00 to 02:00"),
        ("Mo-Fr 10:00-18:00", "open Monday to Friday 10:00 to 18:00, closed on Saturdays and Sundays"),
        (
            "Mo-Fr 10:00-18:00; Sa-Su 10:00-12:00",
            "open Monday to Friday 10:00 to 18:00, Saturdays and Sundays 10:00 to 12:00",
        ),
        (
            "Tu-Su 11:30-14:00,18:30-22:00; PH off",
            "open daily 11:30 to 14:00 and 18:30 to 22:00, closed on Mondays and public holidays",
        ),
        ("Mo-Su 10:00-18:00; PH 11:00-14:00", "open daily 10:00 to 18:00, on public holidays 11:00 to 14:00"),
        (
            "10:00-18:00; Dec 20-Jan 10 off",
            "open daily 10:00 to 18:00; from 20 December to 10 January closed",
        ),
        (
            "Apr-Oct: Mo-Sa 09:00-18:00; Nov-Mar: Sa 10:00-15:00",
            "from April to October open daily 09:00 to 18:00, closed on Sundays;"
            " from November to March open Saturdays 10:00 to 15:00",
        ),
        (
            "May 1-Sep 30 10:00-18:00",
            "from 1 May to 30 September open daily 10:00 to 18:00; otherwise closed",
        ),
        ("Aug: 10:00-18:00", "in August open daily 10:00 to 18:00; otherwise closed"),
        ("18:00+", "open daily from 18:00"),
        ("18:00-22:00+", "open daily 18:00 to 22:00 or later"),
        ("We 14:00-16:00 unknown", "open Wednesdays perhaps 14:00 to 16:00"),
        ('10:00-12:00 "ring twice"', "open daily 10:00 to 12:00 (ring twice)"),
        ('Sa 09:00-17:00 || "by appointment"', "open Saturdays 09:00 to 17:00, otherwise by appointment"),
        ("Sa 09:00-17:00 || unknown", "open Saturdays 09:00 to 17:00, otherwise not known"),
        (
            "Mo-Fr 10:00-12:00, PH 14:00-15:00",
            "open Monday to Friday 10:00 to 12:00, closed on Saturdays and Sundays,"
            " other hours on some public holidays",
        ),
    ],
)
def test_hours_are_said_in_plain_words(text: str, said: str) -> None:
    assert sentence(opening(text)) == said


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("week 1-53/2 Fr 09:00-12:00", "open week01-53/2 Fr 09:00-12:00"),
        ("Th[1] 14:00-16:00", "open Th[1] 14:00-16:00"),
        ("10:00-sunset", "open 10:00-sunset"),
        ("Mo-Fr 10:00-12:00; SH off", "open Mo-Fr 10:00-12:00; SH closed"),
        (
            "Apr-Oct: Mo 10:00-12:00; Jul-Aug: 10:00-20:00",
            "open Apr-Jun,Sep-Oct Mo 10:00-12:00; Jul-Aug 10:00-20:00",
        ),
    ],
)
def test_what_a_week_can_t_tell_is_given_as_text(text: str, said: str) -> None:
    assert sentence(opening(text)) == said


def test_late_hours_are_told_on_the_day_they_begin() -> None:
    hours = opening("Fr-Sa 18:00-02:00")
    assert times_of(hours, date(2027, 7, 16)) == "18:00 to 02:00"
    assert times_of(hours, date(2027, 7, 18)) == ""

"""What keeps guests safe, in every document: cautions, the emergency number, the distress signal."""

from lacet.documents.foot import foot
from lacet.documents.material.telling import Telling, told
from lacet.documents.material.values import Section

# The alpine distress signal: encyclopedia articles "Alpine distress signal" and "Distress signal", and the
# Austrian leaflet "Alpines Notsignal": signals within a minute, a minute's pause, again; then the answer.
SIGNALS_A_MINUTE = 6
ANSWERS_A_MINUTE = 3
SET_IT = "Set it under 'Region' in the settings."
NO_NUMBER = f"No emergency number is printed, since none is set. {SET_IT}"


def cautions(telling: Telling) -> Section:
    """What no plan takes off the guests."""
    say = telling.speech.say
    return Section(
        heading=say("Please note"),
        points=told(
            say("Times, battery and daylight are estimates for planning, not guarantees."),
            say(
                "Be guided by the weather, the conditions and your own judgement; if in doubt, turn"
                " back or stop early."
            ),
            say("Notices and instructions from local authorities come before anything written here."),
            say("You travel independently: carry a charged phone, water and a warm layer."),
            *telling.text_of("cautions").split("\n"),
        ),
    )


def emergency(telling: Telling) -> Section:
    """The emergency number, the rep, the alpine distress signal.

    The numbers are those the office has set; without one none is printed.
    """
    say, many, office = telling.speech.say, telling.speech.many, telling.catalogue.office
    numbers = telling.catalogue.region.emergency_numbers
    first = number_of(telling)
    rep = say("Then call us: {telephone}.", telephone=office.rep_telephone) if office.rep_telephone else ""
    return Section(
        heading=say("In an emergency"),
        points=told(
            say(
                "Call {number} and say where you are, what has happened and how many people are hurt.",
                number=first,
            )
            if first
            else say("Say where you are, what has happened and how many people are hurt."),
            *(f"{each.what_for}: {each.number}" for each in numbers if each.what_for),
            rep,
            many(
                "Alpine distress signal: one visible or audible signal in a minute; pause for a"
                " minute; repeat.",
                "Alpine distress signal: {count} visible or audible signals in a minute;"
                " pause for a minute; repeat.",
                SIGNALS_A_MINUTE,
            ),
            many(
                "The reply is one signal in a minute.",
                "The reply is {count} signals in a minute.",
                ANSWERS_A_MINUTE,
            ),
        ),
    )


def number_of(telling: Telling) -> str:
    """The number to ring first; empty where the office has set none."""
    numbers = telling.catalogue.region.emergency_numbers
    return numbers[0].number if numbers else ""


def estimate(telling: Telling) -> str:
    """The line at the foot of every page."""
    return foot(telling.catalogue.region, telling.speech)

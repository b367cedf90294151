"""Why a day has another way, in words; and the sign it carries on the sheet and on the map."""

from lacet.trip.trip import Alternative
from lacet.trip.words import Reason

OTHER_WAY = "◇"
REASONS = {
    Reason.SHORTER: "The short way",
    Reason.WET_WEATHER: "In wet weather",
    Reason.LONGER: "The long way",
    Reason.OTHER: "Another way",
}


def said_as(other: Alternative) -> str:
    """'The short way: along the lane'."""
    return f"{REASONS[other.reason]}: {other.says}" if other.says else REASONS[other.reason]

"""The line that every document for guests ends with: estimates, authorities first, the number to ring."""

from lacet.documents.language import language
from lacet.language import Language
from lacet.trip.region import Region


def foot(region: Region, speech: Language | None = None) -> str:
    """The line, with the number to ring first where the office has set one; in English unless asked for."""
    speech = speech or language()
    if not region.emergency_numbers:
        return speech.say(
            "Times, battery and daylight are estimates for planning; local authorities, conditions and"
            " your own judgement come first."
        )
    return speech.say(
        "Times, battery and daylight are estimates for planning; local authorities, conditions and your own"
        " judgement come first. Emergency: {number}.",
        number=region.emergency_numbers[0].number,
    )

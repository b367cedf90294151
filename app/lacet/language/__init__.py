"""What is said to people: texts as values, and the languages in which they are said at the edge.

A finding, a fix or a refusal carries a `Text`: a marked English pattern with named values. Nothing is
formatted before somebody reads it: window, command line and documents say it in their language and units.
This room knows nothing of trips; whatever is above it may make a text.
"""

from lacet.language.language import (
    ENGLISH_SPEECH,
    Language,
    Text,
    begun,
    in_english,
    marked,
    to_count,
    to_say,
)

__all__ = [
    "ENGLISH_SPEECH",
    "Language",
    "Text",
    "begun",
    "in_english",
    "marked",
    "to_count",
    "to_say",
]

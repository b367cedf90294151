"""How far a party goes in all: once for everybody, or guest by guest where their ways part."""

from collections.abc import Iterator

from lacet.documents.material.telling import Telling
from lacet.documents.material.values import Fact


def parted(telling: Telling) -> bool:
    """Whether on any day some go another way than others."""
    return any(len(day.groups) > 1 for day in telling.figures.days)


def lengths(telling: Telling) -> Iterator[Fact]:
    """'52.7 km', 'on foot', for the whole trip; a name stands behind it where not all go as far."""
    totals, wording, say = telling.figures.totals, telling.speech.wording, telling.speech.say
    if not parted(telling):
        for length_m, how in ((totals.walking_m, say("on foot")), (totals.cycling_m, say("by bike"))):
            if length_m:
                yield Fact(wording.length(length_m), how)
        return
    alike: dict[tuple[float, float], list[str]] = {}
    for each in telling.figures.travellers:
        alike.setdefault((each.walking_m, each.cycling_m), []).append(each.traveller)
    for (walking_m, cycling_m), travellers in alike.items():
        for length_m, how in ((walking_m, say("on foot")), (cycling_m, say("by bike"))):
            if length_m:
                name = telling.names(travellers)
                yield Fact(wording.length(length_m), say("{way} ({name})", way=how, name=name))

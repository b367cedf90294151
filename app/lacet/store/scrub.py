"""A trip without its guests: what was done stays, who did it goes.

Days, stages, nights, bookings and prices are kept, so that the year's figures still add up. Every free text
goes, because nobody can know whom it names; and any other text goes that holds a word of the guests' own
data. Guests become t1, t2, ... with the days they were there.
"""

import re
from collections.abc import Iterable
from typing import Any

FORGOTTEN_NAME = "Forgotten party"

# Texts a person typed freely: remarks, references, numbers of flights.
FREE_TEXTS = frozenset({"note", "says", "reference", "number"})
# Ids and words of closed vocabularies, which name no guest.
KEPT = frozenset(
    {"id", "kind", "way", "means", "load", "payer", "board", "state", "service", "supplier", "place", "hub"}
    | {"from_place", "to_place", "from_id", "to_id", "tariff", "check", "started_from", "variant", "currency"}
    | {"start", "from_day", "to_day", "option_until", "free_cancel_until", "decided_on", "price"}
    | {"at", "departs", "ready_by", "delivered_by", "opening", "assist", "reason"}
)
_SHORTEST_WORD = 3


def words_of(texts: Iterable[str]) -> frozenset[str]:
    """The words by which guests could be known again, in small letters."""
    found = (word for text in texts for word in re.findall(r"[^\W_]+", text.casefold()))
    return frozenset(word for word in found if len(word) >= _SHORTEST_WORD)


def names_a_guest(text: str, words: frozenset[str]) -> bool:
    """Whether a text holds one of the guests' words."""
    return not words.isdisjoint(re.findall(r"[^\W_]+", text.casefold()))


def without_guests(plain: dict[str, Any], words: frozenset[str]) -> dict[str, Any]:
    """A trip's plain data without its guests; `words` are their own, as `words_of` finds them."""
    party = plain.get("party", {})
    new_ids = {guest["id"]: f"t{n}" for n, guest in enumerate(party.get("travellers", ()), start=1)}
    scrubbed: dict[str, Any] = _scrubbed({**plain, "party": {}}, new_ids, words)
    scrubbed["name"] = FORGOTTEN_NAME
    scrubbed["party"] = _strangers(party, new_ids)
    for number, variant in enumerate(scrubbed.get("variants", ())):
        variant["name"] = f"Variant {number + 1}"
    return scrubbed


def _strangers(party: dict[str, Any], new_ids: dict[str, str]) -> dict[str, Any]:
    kept = ("from_day", "to_day")
    guests = [
        {"id": new_ids[guest["id"]], **{name: guest[name] for name in kept if name in guest}}
        for guest in party.get("travellers", ())
    ]
    sharing = [[new_ids.get(guest, guest) for guest in group] for group in party.get("sharing", ())]
    return {"travellers": guests, "sharing": sharing}


def _scrubbed(data: Any, new_ids: dict[str, str], words: frozenset[str]) -> Any:
    if isinstance(data, list):
        return [_scrubbed(part, new_ids, words) for part in data]
    if isinstance(data, dict):
        return {name: _scrubbed_part(name, part, new_ids, words) for name, part in data.items()}
    return data


def _scrubbed_part(name: str, part: Any, new_ids: dict[str, str], words: frozenset[str]) -> Any:
    if name == "travellers" and isinstance(part, list):
        return [new_ids.get(guest, guest) for guest in part]
    if name == "overrules":
        # Their reason is free text; the reason of an alternative is a word of a closed vocabulary.
        return [_scrubbed(overrule | {"reason": ""}, new_ids, words) for overrule in part]
    if name == "traveller":
        return new_ids.get(part, part)
    if name == "subject" and isinstance(part, str):
        # An overrule of what concerned one guest: "traveller anna".
        return " ".join(new_ids.get(word, word) for word in part.split(" "))
    if isinstance(part, list) and all(isinstance(text, str) for text in part):
        return [text for text in part if not names_a_guest(text, words)]
    if not isinstance(part, str) or name in KEPT:
        return _scrubbed(part, new_ids, words)
    return "" if name in FREE_TEXTS or names_a_guest(part, words) else part

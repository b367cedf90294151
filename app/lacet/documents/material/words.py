"""Fixed headings of a proposal, by the keys that templates use."""

from lacet.language import Language, marked

WORDS: dict[str, str] = {
    "proposal": marked("Proposal"),
    "draft": marked("Draft"),
    "contents": marked("In this proposal"),
    "glance": marked("The trip at a glance"),
    "map": marked("Map"),
    "zoom_in": marked("Zoom in"),
    "zoom_out": marked("Zoom out"),
    "whole_map": marked("Whole map"),
    "profile": marked("Profile"),
    "days": marked("Day by day"),
    "your_day": marked("Your day"),
    "two_ways": marked("Two routes for the day"),
    "highlights": marked("Worth seeing"),
    "good_to_know": marked("Good to know"),
    "on_the_clock": marked("Timings"),
    "lodging": marked("Where you stay"),
    "rooms": marked("Rooms"),
    "meals": marked("Meals"),
    "bags": marked("Bags and bikes"),
    "transfers": marked("Transfers"),
    "other_ways": marked("Alternative"),
    "rescue": marked("If you want to stop early"),
    "ideas": marked("Ideas for the day"),
    "included": marked("Included"),
    "optional": marked("Optional"),
    "locally": marked("Payable locally"),
    "own": marked("Not included"),
    "price": marked("Price"),
    "by_room": marked("Price per person"),
    "by_guest": marked("Price for each guest"),
    "payments": marked("How to pay"),
    "say_yes": marked("How to book"),
    "rooms_held": marked("Rooms"),
    "bikes": marked("Your bikes"),
    "guest": marked("Guest"),
    "bike": marked("Bike"),
    "size": marked("Size"),
    "extras": marked("Accessories"),
    "when": marked("Days"),
    "baggage": marked("Luggage"),
    "practical": marked("Before you book"),
    "contacts": marked("Your contacts"),
    "skip": marked("Skip to the proposal"),
    "page": marked("Page"),
    "of": marked("of"),
}  # fmt: skip


def fixed_words(speech: Language) -> dict[str, str]:
    """All headings in a language."""
    return {key: speech.word(text) for key, text in WORDS.items()}

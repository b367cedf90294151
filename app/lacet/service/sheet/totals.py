"""The line of totals: always in sight, of the variant as it is or as it would become."""

from lacet.service.shown import Shown
from lacet.wording import ENGLISH, Wording


def totals_text(shown: Shown, show_money: bool, wording: Wording = ENGLISH) -> str:
    """'9 days · 53.2 km on foot · 84.0 km by bike · ↑ 2790 m · 19 h 55 · from €1,482 a head'."""
    totals, quote = shown.assessment.figures.totals, shown.assessment.quote
    parts = [f"{totals.days} days" if totals.days != 1 else "1 day"]
    if totals.walking_m:
        parts.append(f"{wording.length(totals.walking_m)} on foot")
    if totals.cycling_m:
        parts.append(f"{wording.length(totals.cycling_m)} by bike")
    if totals.distance_m:
        parts += [f"↑ {wording.height(totals.ascent_m)}", wording.duration(totals.moving_s)]
    if totals.unknown_days:
        parts.append(f"{totals.unknown_days} days unknown")
    if show_money and quote.per_traveller and quote.total.amount:
        a_head = (quote.total.amount / len(quote.per_traveller)).quantize(quote.total.amount)
        said = wording.round_money(type(quote.total)(a_head, quote.currency), starting=quote.is_from)
        parts.append(f"{said} a head")
    return "  ·  ".join(parts)

"""The house's own rules: every limit and habit a check or a figure uses, with unit and meaning.

One field a rule; the settings page, the contributor guide's table and the digest derive from the
fields. A default is common practice without a source unless its text names one.
"""

from dataclasses import dataclass, field
from typing import Any

from lacet.trip.money import ExchangeRate


def rule(default: Any, unit: str, says: str, low: float | None = None, high: float | None = None) -> Any:
    """A field of the house rules with what the settings page must know about it."""
    return field(default=default, metadata={"unit": unit, "says": says, "low": low, "high": high})


@dataclass(frozen=True, slots=True, kw_only=True)
class HouseRules:
    """Limits and habits of the office. Lengths [m], times [s], shares 0..1 unless the unit says otherwise."""

    # How effort is reckoned
    walking_rule: str = rule("din33466", "", "published rule for walking times")
    stops_share: float = rule(
        0.25, "share", "time for rests and photographs, as a share of moving time", 0, 2
    )
    departs_minute: int = rule(
        9 * 60 + 30, "minute of the day", "usual setting-out when a day names none", 0, 1439
    )
    rider_mass_kg: float = rule(75.0, "kg", "mass assumed for a guest who hasn't told it", 20, 200)
    luggage_on_bike_kg: float = rule(8.0, "kg", "day luggage a rider carries", 0, 60)
    bike_mass_kg: float = rule(15.0, "kg", "mass assumed for a bike that hasn't one", 5, 60)
    battery_reserve_share: float = rule(0.2, "share", "battery that should be left at the end of a day", 0, 1)
    battery_stop_share: float = rule(0.1, "share", "battery below which a day can't be promised", 0, 1)

    # What a day may ask
    walking_limit_m: float = rule(18_000.0, "m", "longest day on foot", 1_000, 80_000)
    cycling_limit_m: float = rule(40_000.0, "m", "longest easy day by bike", 1_000, 300_000)
    ebike_limit_m: float = rule(60_000.0, "m", "longest easy day by e-bike", 1_000, 300_000)
    walking_ascent_limit_m: float = rule(900.0, "m", "most climb in a day on foot", 0, 4_000)
    cycling_ascent_limit_m: float = rule(800.0, "m", "most climb in a day by bike", 0, 4_000)
    ebike_ascent_limit_m: float = rule(1_200.0, "m", "most climb in a day by e-bike", 0, 6_000)
    moving_limit_s: float = rule(6 * 3600.0, "s", "longest moving time in a day", 1_800, 86_400)
    hard_day_share: float = rule(0.85, "share", "from this share of a limit a day counts as hard", 0, 1)
    sunset_stop_s: float = rule(3600.0, "s", "least time between arriving and sunset", 0, 21_600)
    sunset_warn_s: float = rule(7200.0, "s", "comfortable time between arriving and sunset", 0, 21_600)

    # What a day needs around it
    far_over_share: float = rule(1.25, "share", "so far over the house's limit a day can't be promised", 1, 5)
    arrival_leg_until_minute: int = rule(
        14 * 60, "minute of the day", "latest start of a stage on the day of arrival", 0, 1439
    )
    breakfast_s: float = rule(2700.0, "s", "time between breakfast opening and setting out", 0, 10_800)
    before_flight_stop_s: float = rule(5400.0, "s", "least time at the airfield before a flight", 0, 21_600)
    before_flight_warn_s: float = rule(7200.0, "s", "usual time at the airfield before a flight", 0, 21_600)
    before_long_haul_s: float = rule(10_800.0, "s", "usual time before a long-haul flight", 0, 28_800)
    before_boat_stop_s: float = rule(1800.0, "s", "least time at the quay or station", 0, 14_400)
    before_boat_warn_s: float = rule(3600.0, "s", "usual time at the quay or station", 0, 14_400)
    busy_road_m: float = rule(1000.0, "m", "busy road children and novices may ride", 0, 20_000)
    busy_road_walking_m: float = rule(500.0, "m", "busy road children and novices may walk beside", 0, 20_000)
    dry_s: float = rule(4 * 3600.0, "s", "longest moving time on foot without water", 0, 43_200)
    hungry_s: float = rule(5 * 3600.0, "s", "longest moving time on foot without food", 0, 43_200)
    dry_cycling_s: float = rule(3 * 3600.0, "s", "longest moving time by bike without water", 0, 43_200)
    hungry_cycling_s: float = rule(4 * 3600.0, "s", "longest moving time by bike without food", 0, 43_200)

    # Nights, meals, bags, bookings
    single_nights: int = rule(3, "nights", "most single nights on end", 1, 30)
    near_m: float = rule(1000.0, "m", "longest way from stage to house, and from house to dinner", 0, 10_000)
    bag_kg: float = rule(20.0, "kg", "heaviest bag a carrier takes", 5, 40)
    bags_after_s: float = rule(1800.0, "s", "bags may come so long after the guests", 0, 21_600)
    option_warn_days: int = rule(3, "days", "an option's end is told so long before", 0, 60)
    release_warn_days: int = rule(14, "days", "a house's release day is told so long before", 0, 90)

    # Money
    markup_share: float = rule(0.25, "share", "mark-up on net prices (used unless a margin is set)", 0, 10)
    margin_share: float | None = rule(
        None, "share", "margin within the selling price; replaces the mark-up", 0, 0.95
    )
    commission_share: float = rule(0.0, "share", "agent's commission within the selling price", 0, 0.9)
    round_price_to_minor: int = rule(
        100, "minor units", "prices a head are rounded up to a multiple of this", 1
    )
    half_even: bool = rule(False, "", "round halves to the even cent (else up)")
    deposit_share: float = rule(0.25, "share", "deposit asked at booking", 0, 1)
    balance_days: int = rule(56, "days", "balance is due so many days before the start", 0, 365)
    quote_valid_days: int = rule(14, "days", "a quote holds so long", 1, 365)
    child_to_age: int = rule(11, "years", "oldest age that pays as a child where a tariff names none", 0, 17)
    exchange_rates: tuple[ExchangeRate, ...] = rule((), "", "rates between currencies, each with its date")
    margin_scheme: bool = rule(
        False,
        "",
        "reckon VAT on the margin (Directive 2006/112/EC, Articles 306-310): an aid, not tax advice",
    )
    vat_share: float = rule(0.19, "share", "rate of VAT on the margin and on own services", 0, 0.5)
    briefing_minutes: int = rule(60, "minutes", "a rep's time for one briefing", 0, 480)
    bags_a_head: int = rule(1, "bags", "bags moved for each guest where a move names no count", 0, 5)

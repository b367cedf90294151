"""DIN 33466, the rule of the signposts: horizontal and vertical time, the larger plus half of the smaller."""

from lacet.effort.quantity import KMH_PER_M_S, SECONDS_PER_HOUR, Array, Quantity
from lacet.effort.rule import Ground, Needs, WalkingRule

FLAT_SPEED_M_S = 4.0 / KMH_PER_M_S
CLIMB_M_PER_H = 300.0
FALL_M_PER_H = 500.0

SOURCE = "DIN 33466:2003, as quoted by the German Alpine Club (Tourenplanung, section Zeitplan)"


def horizontal_time_s(distance_m: Quantity, flat_speed_m_s: float = FLAT_SPEED_M_S) -> Quantity:
    """Time for the distance alone [s]."""
    return distance_m / flat_speed_m_s


def vertical_time_s(
    ascent_m: Quantity,
    descent_m: Quantity,
    climb_m_per_h: float = CLIMB_M_PER_H,
    fall_m_per_h: float = FALL_M_PER_H,
) -> Quantity:
    """Time for the heights alone [s]."""
    return ascent_m * (SECONDS_PER_HOUR / climb_m_per_h) + descent_m * (SECONDS_PER_HOUR / fall_m_per_h)


def din33466_time_s(
    distance_m: Quantity, ascent_m: Quantity, descent_m: Quantity, flat_speed_m_s: float = FLAT_SPEED_M_S
) -> Quantity:
    """Walking time of a leg, without breaks [s].

    Parameters
    ----------
    distance_m, ascent_m, descent_m : the leg's totals [m], all positive
    flat_speed_m_s : 4 km/h; an Austrian variant takes 3 km/h

    Notes
    -----
    t_h = d / 4 km/h, t_v = ascent / (300 m/h) + descent / (500 m/h), t = max(t_h, t_v) + min(t_h, t_v) / 2.
    Made for signposted paths. The German Alpine Club adds breaks: 15 min every 2 h, 30 min on a summit.

    References
    ----------
    DIN 33466:2003, *Wegweiser fuer Wanderwege*; the standard is not public, the rule is as the German Alpine
    Club quotes it.
    """
    level_s = horizontal_time_s(distance_m, flat_speed_m_s)
    steep_s = vertical_time_s(ascent_m, descent_m)
    # max + min / 2, written so that floats and arrays go the same way
    return 0.75 * (level_s + steep_s) + 0.25 * abs(level_s - steep_s)


def _step_s(ground: Ground) -> Array:
    # the larger of the two times counts whole and the smaller half; which is which is settled by the leg's
    # totals, so that the sum of the steps is the published total
    level_s = horizontal_time_s(ground.steps.run_m)
    steep_s = vertical_time_s(ground.climb_m, ground.fall_m)
    if level_s.sum() >= steep_s.sum():
        return level_s + 0.5 * steep_s
    return steep_s + 0.5 * level_s


RULE = WalkingRule(
    id="din33466",
    name="DIN 33466",
    source=SOURCE,
    note="signposted paths; level or height time, the larger plus half the smaller",
    needs=frozenset({Needs.CLIMB, Needs.FALL}),
    step_s=_step_s,
)

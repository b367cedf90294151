"""The walking rules applied to a profile: one list, one function.

Rule of this module: rules over totals (Naismith, DIN 33466, Scarf) keep their published total exactly, on the
leg's own length, ascent and descent, and are shared out along the way; rules over slopes (Tobler, Swiss,
Campbell) are summed step by step; Langmuir stands between them.
"""

from dataclasses import dataclass

import numpy as np

from lacet.effort import campbell, din33466, langmuir, naismith, scarf, swiss, tobler
from lacet.effort.quantity import Array, EffortError
from lacet.effort.rule import Ground, WalkingRule
from lacet.effort.steps import cumulative, steps_of

RULES: tuple[WalkingRule, ...] = (
    din33466.RULE,
    naismith.RULE,
    langmuir.RULE,
    tobler.RULE,
    swiss.RULE,
    campbell.RULE,
    scarf.RULE,
)
"""All an office can choose from, in the order they are shown."""

OFFICE_DEFAULT = din33466.RULE


@dataclass(frozen=True, slots=True, eq=False)
class WalkingTimes:
    """Moving time along a leg.

    Attributes
    ----------
    time_s : seconds since the start at each node, stops left out
    assumed_flat : True when a height was missing, so that the time is only what the known ground asks for
    """

    time_s: Array
    assumed_flat: bool

    @property
    def moving_s(self) -> float:
        """Moving time of the whole leg [s]."""
        return float(self.time_s[-1])


def walking_rule(rule_id: str) -> WalkingRule:
    """The rule of that id.

    Raises
    ------
    EffortError
        When there is none.
    """
    for rule in RULES:
        if rule.id == rule_id:
            return rule
    known = ", ".join(rule.id for rule in RULES)
    raise EffortError(
        "There is no walking rule '{rule_id}'; choose one of {known}.", rule_id=rule_id, known=known
    )


def walking_times_s(
    rule: WalkingRule,
    distance_m: Array,
    height_m: Array,
    pace: float = 1.0,
    ascent_m: float | None = None,
    descent_m: float | None = None,
) -> WalkingTimes:
    """Moving time along a leg by one rule.

    Parameters
    ----------
    distance_m, height_m : the profile [m]; heights may be NaN
    pace : factor on the time: 1 is the rule, 1.2 takes 20 % longer
    ascent_m, descent_m : the leg's own totals [m]; without them the plain sums of the profile are taken.
        A rule looks at them only where it `needs` climb or fall.

    Raises
    ------
    EffortError
        When the pace is not above 0, or the profile is refused by `steps_of`.
    """
    if not (np.isfinite(pace) and pace > 0.0):
        raise EffortError("A pace is a factor above 0, not {pace}.", pace=pace)
    steps = steps_of(distance_m, height_m)
    ground = Ground(
        steps,
        _shared_out(ascent_m, steps.climb_m, steps.run_m),
        _shared_out(descent_m, steps.fall_m, steps.run_m),
    )
    return WalkingTimes(cumulative(rule.step_s(ground) * pace), steps.assumed_flat)


def _shared_out(total_m: float | None, part_m: Array, run_m: Array) -> Array:
    """The total in the proportions of the parts; by distance where the profile shows none of it."""
    if total_m is None or not np.isfinite(total_m):
        return part_m
    weight = part_m if part_m.any() else run_m
    whole = float(weight.sum())
    return weight * (total_m / whole) if whole > 0.0 else np.zeros_like(weight)

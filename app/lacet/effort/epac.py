"""What the law calls a bicycle with assistance: motor power, cut-off speed, age."""

from dataclasses import dataclass

from lacet.effort.quantity import KMH_PER_M_S, METRES_PER_MILE, SECONDS_PER_HOUR

CONFORMITY_TOLERANCE_SHARE = 0.10
"""A tested bike may cut off up to a tenth above the limit (EN 15194)."""

START_UP_AID_M_S = 6.0 / KMH_PER_M_S
"""Fastest help without pedalling, for pushing (EN 15194)."""


@dataclass(frozen=True, slots=True)
class AssistLaw:
    """Limits of one country's law.

    Attributes
    ----------
    motor_power_w : highest continuous rated power [W]
    cut_off_m_s : speed above which the motor gives nothing [m/s]
    least_age : youngest rider [years], None where this law names none
    """

    name: str
    motor_power_w: float
    cut_off_m_s: float
    least_age: int | None
    source: str

    @property
    def tolerated_cut_off_m_s(self) -> float:
        """The fastest cut-off that still conforms [m/s]."""
        return self.cut_off_m_s * (1.0 + CONFORMITY_TOLERANCE_SHARE)


EUROPE = AssistLaw(
    "EPAC", 250.0, 25.0 / KMH_PER_M_S, None, "EN 15194:2017+A1, scope; Regulation (EU) 168/2013 Art. 2"
)
GREAT_BRITAIN = AssistLaw(
    "EAPC",
    250.0,
    15.5 * METRES_PER_MILE / SECONDS_PER_HOUR,
    14,
    "UK Department for Transport, EAPCs in Great Britain: information sheet (22 June 2015)",
)
UNITED_STATES_CLASS_3 = AssistLaw(
    "class 3 electric bicycle", 750.0, 28.0 * METRES_PER_MILE / SECONDS_PER_HOUR, None, "36 CFR 1.4"
)

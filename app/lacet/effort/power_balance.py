"""Martin et al. (1998): the power a cyclist needs for a speed, and the speed a power gives.

Steady riding: at constant speed the power at the chain equals what air, tyres, bearings and the hill take.
The kinetic term is left out, since riding at steady speed has none.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from lacet.effort.quantity import GRAVITY_M_S2, Array, EffortError

WHEEL_DRAG_AREA_M2 = 0.0044
CHAIN_EFFICIENCY_SHARE = 0.976

SOURCE = "J. C. Martin et al., J. Appl. Biomech. 14(3), 276-291 (1998)"


@dataclass(frozen=True, slots=True)
class Resistance:
    """What a rider with bike and luggage has to overcome.

    Attributes
    ----------
    mass_kg : rider, bike and luggage
    drag_area_m2 : frontal area times drag coefficient, CdA
    rolling_coefficient : Crr [-]
    air_density_kg_m3 : 1.2 is the air of about 200 m height at 15 degrees Celsius
    chain_efficiency_share : share of the power at the pedals that reaches the wheel
    """

    mass_kg: float
    drag_area_m2: float
    rolling_coefficient: float
    air_density_kg_m3: float = 1.2
    chain_efficiency_share: float = CHAIN_EFFICIENCY_SHARE
    wheel_drag_area_m2: float = WHEEL_DRAG_AREA_M2

    def __post_init__(self) -> None:
        if not (self.mass_kg > 0.0 and self.drag_area_m2 > 0.0 and self.air_density_kg_m3 > 0.0):
            raise EffortError("A ride needs a mass, a drag area and an air density above 0.")
        if not (self.rolling_coefficient >= 0.0 and 0.0 < self.chain_efficiency_share <= 1.0):
            raise EffortError(
                "Rolling resistance can't be below 0, and a chain passes on more than 0 and at most all."
            )

    @property
    def air_factor(self) -> float:
        """Half the density times the whole drag area [kg/m]: power is this times speed cubed."""
        return 0.5 * self.air_density_kg_m3 * (self.drag_area_m2 + self.wheel_drag_area_m2)


def air_power_w(
    resistance: Resistance, speed_m_s: ArrayLike, air_speed_m_s: ArrayLike | None = None
) -> Array:
    """Power taken by the air [W]; `air_speed_m_s` is the speed against the air, without wind the road
    speed.
    """
    speed = np.asarray(speed_m_s, float)
    against = speed if air_speed_m_s is None else np.asarray(air_speed_m_s, float)
    return np.asarray(resistance.air_factor * against**2 * speed)


def rolling_power_w(resistance: Resistance, speed_m_s: ArrayLike, slope_ratio: ArrayLike) -> Array:
    """Power taken by the tyres [W]."""
    weight_n = resistance.mass_kg * GRAVITY_M_S2
    pressing_n = weight_n * _cosine(slope_ratio)
    return np.asarray(resistance.rolling_coefficient * pressing_n * np.asarray(speed_m_s, float))


def bearing_power_w(speed_m_s: ArrayLike) -> Array:
    """Power taken by the wheel bearings [W]."""
    speed = np.asarray(speed_m_s, float)
    return np.asarray(speed * (91.0 + 8.7 * speed) * 1e-3)


def climbing_power_w(resistance: Resistance, speed_m_s: ArrayLike, slope_ratio: ArrayLike) -> Array:
    """Power taken by the hill [W], negative down."""
    weight_n = resistance.mass_kg * GRAVITY_M_S2
    along_n = weight_n * np.asarray(slope_ratio, float) * _cosine(slope_ratio)
    return np.asarray(along_n * np.asarray(speed_m_s, float))


def martin_power_w(
    resistance: Resistance,
    speed_m_s: ArrayLike,
    slope_ratio: ArrayLike = 0.0,
    air_speed_m_s: ArrayLike | None = None,
) -> Array:
    """Power at the pedals for a steady speed [W], negative where the hill gives more than is taken.

    Parameters
    ----------
    speed_m_s, slope_ratio : speed on the road [m/s], rise over run [-]
    air_speed_m_s : speed against the air [m/s], for a headwind

    Notes
    -----
    P = [1/2 rho (CdA + Fw) Va^2 V + Crr m g cos(theta) V + V (91 + 8.7 V) 10^-3 + m g sin(theta) V] / Ec,
    theta = arctan(slope). Validated on the road to R^2 = 0.97, standard error 2.7 W.

    References
    ----------
    Martin, Milliken, Cobb, McFadden, Coggan (1998), "Validation of a mathematical model for road cycling
    power", J. Appl. Biomech. 14(3), 276-291; terms as quoted in van Druenen & Blocken (2021), Sports
    Engineering 24.
    """
    taken_w = (
        air_power_w(resistance, speed_m_s, air_speed_m_s)
        + rolling_power_w(resistance, speed_m_s, slope_ratio)
        + bearing_power_w(speed_m_s)
        + climbing_power_w(resistance, speed_m_s, slope_ratio)
    )
    return np.asarray(taken_w / resistance.chain_efficiency_share)


def martin_speed_m_s(resistance: Resistance, power_w: ArrayLike, slope_ratio: ArrayLike = 0.0) -> Array:
    """Steady speed for a power at the pedals, without wind [m/s].

    Parameters
    ----------
    power_w : power at the pedals [W], not negative; 0 coasts
    slope_ratio : rise over run [-]

    Notes
    -----
    The balance is a cubic, a V^3 + b V^2 + c V = Ec P with a, b > 0. Right of its one positive root it is
    convex and rising, so that Newton's steps from cbrt(Ec P / a) + sqrt(max(-c, 0) / a), which lies to the
    right, fall onto the root. Without power the root is 0 unless the hill drives.
    """
    power, slope = np.broadcast_arrays(np.asarray(power_w, float), np.asarray(slope_ratio, float))
    if np.any(power < 0.0):
        raise EffortError("A rider's power can't be below 0.")
    wheel_w = power * resistance.chain_efficiency_share
    cubic = resistance.air_factor
    square = 8.7e-3
    linear = 91e-3 + _weight_along_n(resistance, slope)
    speed = np.cbrt(wheel_w / cubic) + np.sqrt(np.maximum(-linear, 0.0) / cubic)
    for _ in range(60):
        excess = ((cubic * speed + square) * speed + linear) * speed - wheel_w
        rise = (3.0 * cubic * speed + 2.0 * square) * speed + linear
        # at speed 0 without power there is nothing to improve, and on a climb `rise` is the weight
        step = np.divide(excess, rise, out=np.zeros_like(speed), where=(speed > 0.0) & (rise > 0.0))
        speed = np.maximum(speed - step, 0.0)
        if np.all(np.abs(step) <= 1e-13 * speed):
            break
    return speed


def speed_rise_m_s(
    resistance: Resistance, speed_m_s: Array, slope_ratio: Array, power_rise_w: Array
) -> Array:
    """How steeply the steady speed changes with the slope [m/s per unit of slope].

    Parameters
    ----------
    speed_m_s : steady speeds from `martin_speed_m_s` at `slope_ratio`
    power_rise_w : how steeply the rider's power changes with the slope [W per unit of slope]

    Notes
    -----
    Implicit derivative of the balance F(V, S) = Ec P(S): dV/dS = (Ec dP/dS - F_S) / F_V.
    """
    weight_n = resistance.mass_kg * GRAVITY_M_S2
    cosine = _cosine(slope_ratio)
    # d(sin)/dS = cos^3 and d(cos)/dS = -S cos^3, for S = tan
    weight_rise_n = weight_n * (1.0 - resistance.rolling_coefficient * slope_ratio) * cosine**3
    slope_term = weight_rise_n * speed_m_s
    linear = 91e-3 + _weight_along_n(resistance, slope_ratio)
    speed_term = (3.0 * resistance.air_factor * speed_m_s + 2.0 * 8.7e-3) * speed_m_s + linear
    return np.asarray((resistance.chain_efficiency_share * power_rise_w - slope_term) / speed_term)


def _cosine(slope_ratio: ArrayLike) -> Array:
    """cos(arctan(slope)), without the trigonometry."""
    return np.asarray(1.0 / np.sqrt(1.0 + np.square(np.asarray(slope_ratio, float))))


def _weight_along_n(resistance: Resistance, slope_ratio: Array) -> Array:
    """Force of tyres and hill along the road [N]."""
    weight_n = resistance.mass_kg * GRAVITY_M_S2
    return np.asarray(weight_n * _cosine(slope_ratio) * (resistance.rolling_coefficient + slope_ratio))

"""Pandolf et al. (1977): the energy of walking with a load, by speed, grade and terrain."""

from types import MappingProxyType

from lacet.effort.quantity import Quantity

TERRAIN_FACTORS = MappingProxyType(
    {"blacktop": 1.0, "light brush": 1.2, "heavy brush": 1.5, "loose sand": 2.1}
)
"""Soule & Goldman (1972), J. Appl. Physiol. 32, 706-708."""

SOURCE = "K. B. Pandolf et al., J. Appl. Physiol. 43, 577-581 (1977)"


def pandolf_power_w(
    mass_kg: float,
    load_kg: float,
    speed_m_s: Quantity,
    grade_share: Quantity,
    terrain_factor: float = 1.0,
) -> Quantity:
    """Metabolic power of walking with a load [W].

    Parameters
    ----------
    mass_kg, load_kg : body, and what it carries [kg]
    speed_m_s, grade_share : speed [m/s], rise over run [-], level or uphill
    terrain_factor : one of `TERRAIN_FACTORS`

    Notes
    -----
    M = 1.5 W + 2.0 (W + L) (L / W)^2 + eta (W + L) (1.5 V^2 + 0.35 V G), G in per cent. Level and uphill
    only: a correction for descents exists in copies that disagree on signs, so it is left out.

    References
    ----------
    Pandolf, Givoni, Goldman (1977), J. Appl. Physiol. 43, 577-581.
    """
    standing_w = 1.5 * mass_kg + 2.0 * (mass_kg + load_kg) * (load_kg / mass_kg) ** 2
    moving = 1.5 * speed_m_s * speed_m_s + 35.0 * speed_m_s * grade_share
    return standing_w + terrain_factor * (mass_kg + load_kg) * moving

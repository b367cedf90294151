"""The metabolic equations of the American College of Sports Medicine: oxygen from speed, grade or work.

All give the gross oxygen uptake in millilitres per kilogram and minute, as printed; `oxygen_energy_w` turns
it to watts.
"""

from lacet.effort.quantity import SECONDS_PER_MINUTE, Quantity

KCAL_PER_LITRE_OXYGEN = 5.0
JOULES_PER_KCAL = 4184.0
ML_PER_LITRE = 1000.0
RESTING_ML_KG_MIN = 3.5
KGM_MIN_PER_W = 6.0
"""As the book rounds it (exactly 6.118)."""

SOURCE = "ACSM, Guidelines for Exercise Testing and Prescription, 10th ed., table 6.3"


def acsm_walking_ml_kg_min(speed_m_s: Quantity, grade_share: Quantity) -> Quantity:
    """Oxygen uptake on foot: 0.1 S + 1.8 S G + 3.5, S in m/min; valid for 50 to 100 m/min, level and
    uphill.
    """
    speed = speed_m_s * SECONDS_PER_MINUTE
    return 0.1 * speed + 1.8 * speed * grade_share + RESTING_ML_KG_MIN


def acsm_cycling_ml_kg_min(power_w: Quantity, mass_kg: float) -> Quantity:
    """Oxygen uptake of leg cycling: 10.8 W / M + 7; valid for 50 to 200 W."""
    return 1.8 * KGM_MIN_PER_W * power_w / mass_kg + 7.0


def oxygen_energy_w(uptake_ml_kg_min: Quantity, mass_kg: float) -> Quantity:
    """Energy burnt [W] at 5 kcal per litre of oxygen."""
    litres_per_s = uptake_ml_kg_min * mass_kg / ML_PER_LITRE / SECONDS_PER_MINUTE
    return litres_per_s * (KCAL_PER_LITRE_OXYGEN * JOULES_PER_KCAL)

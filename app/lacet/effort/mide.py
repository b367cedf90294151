"""MIDE's effort score: one to five by the hours of walking."""

from lacet.effort.quantity import SECONDS_PER_HOUR

UPPER_HOURS = (1.0, 3.0, 6.0, 10.0)

SOURCE = "MIDE, Metodo de Informacion de Excursiones, A. Paris Roche (2002), Gobierno de Aragon and FEDME"


def mide_effort(moving_s: float) -> int:
    """Effort from 1 (up to 1 h) over 3, 6 and 10 h to 5 (beyond 10 h), by walking time without stops."""
    return 1 + sum(moving_s > hours * SECONDS_PER_HOUR for hours in UPPER_HOURS)

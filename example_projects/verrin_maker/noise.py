"""Noise without a lattice: white noise shaped in the frequency domain, so no direction is favoured."""

from __future__ import annotations

import numpy as np
from scipy.ndimage import map_coordinates

from grid import Array, Grid


def fractal_noise(
    grid: Grid, seed: int, longest_km: float, shortest_km: float, roughness: float = 2.0
) -> Array:
    """Noise of mean 0 and standard deviation 1 with wavelengths between two bounds.

    Parameters
    ----------
    longest_km, shortest_km : wavelengths outside this band are absent [km]
    roughness : amplitude falls with frequency to this power; 2 is soft, 1 is rugged
    """
    white = _white_noise(grid, seed)
    along = np.fft.fftfreq(grid.rows, grid.cell_height_m / 1000)[:, None]
    across = np.fft.rfftfreq(grid.columns, grid.cell_width_m / 1000)[None, :]
    frequency = np.hypot(along, across)
    frequency[0, 0] = 1e9
    band = 1 / (1 + (1 / longest_km / frequency) ** 6) / (1 + (frequency * shortest_km) ** 6)
    shaped = np.fft.irfft2(np.fft.rfft2(white) * band / frequency**roughness, s=grid.shape)
    return np.asarray((shaped - shaped.mean()) / shaped.std())


def _white_noise(grid: Grid, seed: int) -> Array:
    return np.random.default_rng(seed).standard_normal(grid.shape)


def warped(grid: Grid, field: Array, seed: int, reach_km: float, wavelength_km: float) -> Array:
    """The field as seen through uneven glass: each cell looks up to about `reach_km` aside."""
    rows, columns = np.indices(grid.shape, dtype=np.float64)
    down = fractal_noise(grid, seed, wavelength_km, wavelength_km / 4) * reach_km * 1000 / grid.cell_height_m
    right = (
        fractal_noise(grid, seed + 1, wavelength_km, wavelength_km / 4) * reach_km * 1000 / grid.cell_width_m
    )
    return np.asarray(map_coordinates(field, [rows + down, columns + right], order=1, mode="nearest"))

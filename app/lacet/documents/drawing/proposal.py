"""All drawings of a proposal, under the keys its material names them by."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from lacet.documents.drawing import maps, profiles
from lacet.documents.drawing.look import COLOUR, Look
from lacet.documents.drawing.scene import Manner, scene_of
from lacet.documents.material.telling import Telling
from lacet.documents.material.values import Drawn
from lacet.tracks.raster import ElevationRaster


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizes:
    """How wide and high the drawings of a document are [mm]."""

    trip_map_mm: tuple[float, float] = maps.WHOLE_MM
    trip_profile_mm: tuple[float, float] = profiles.WHOLE_MM
    day_map_mm: tuple[float, float] = maps.DAY_MM
    day_profile_mm: tuple[float, float] = profiles.DAY_MM


def proposal_drawings(
    rasters: Sequence[ElevationRaster] = (),
    look: Look = COLOUR,
    sizes: Sizes = Sizes(),
    written: Callable[[str], str] = str,
) -> Callable[[Telling], dict[str, Drawn]]:
    """Return what `gather` takes as `drawings`: overview and profile of all days, and of each group's day."""

    def draw(telling: Telling) -> dict[str, Drawn]:
        figures = telling.figures
        manner = Manner(speech=telling.speech, look=look, rasters=tuple(rasters), written=written)
        scene = scene_of(figures, telling.catalogue, telling.variant.days)
        found = {"map-trip": maps.trip_map(scene, manner, sizes.trip_map_mm)}
        if any(group.legs for day in figures.days for group in day.groups):
            found["profile-trip"] = profiles.trip_profile(figures, manner, sizes.trip_profile_mm)
        for index, day in enumerate(figures.days):
            for group, spent in enumerate(day.groups):
                if spent.legs:
                    key = f"{telling.day_of(day).id}-{group + 1}"
                    found[f"map-{key}"] = maps.day_map(scene, manner, index, group, sizes.day_map_mm)
                    found[f"profile-{key}"] = profiles.day_profile(
                        figures, manner, index, group, sizes.day_profile_mm
                    )
        return found

    return draw

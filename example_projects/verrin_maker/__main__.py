"""Makes the island of Verrin anew: `python example_projects/verrin_maker [folder]`.

Everything follows from the seeds in `terrain.py` and the words in the three `.toml` files beside this one.
"""

from __future__ import annotations

import sys
from pathlib import Path

from character import Surveyor
from cues import Guide
from features import Gazetteer
from network import build_network
from places import read_places
from publish import write_cues, write_places, write_points, write_raster, write_stages, write_tracks
from stages import read_stages
from terrain import make_terrain

HERE = Path(__file__).resolve().parent
VERRIN = HERE.parent / "verrin"


def main(folder: Path) -> None:
    """Terrain, places, ways, stages; then everything that ships is written to the folder."""
    folder.mkdir(parents=True, exist_ok=True)
    terrain = make_terrain()
    places = read_places(HERE / "places.toml", terrain)
    network = build_network(HERE / "network.toml", terrain, places)
    stages = read_stages(HERE / "stages.toml", network)
    surveyor = Surveyor(terrain, places)
    gazetteer = Gazetteer(network, places, surveyor)
    guide = Guide(network, gazetteer)
    write_raster(folder / "island.tif", terrain)
    write_places(folder / "places.csv", terrain, places)
    write_tracks(folder / "tracks", stages)
    write_stages(folder / "stages.csv", stages, [surveyor.survey(stage) for stage in stages])
    write_points(folder / "points.csv", (point for stage in stages for point in gazetteer.points(stage)))
    write_cues(folder / "cues.csv", (cue for stage in stages for cue in guide.cues(stage)))
    print(f"{len(places)} places, {len(stages)} stages, {len(network.strands)} strands written to {folder}")


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else VERRIN)

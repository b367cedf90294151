"""The elevation rasters that belong to a project lie beside its file and nowhere else."""

from pathlib import Path

import pytest

from lacet.store import open_project
from tests.small_library import write_small_project


@pytest.mark.parametrize("name", ["../hidden.tif", "/etc/hidden.tif", "a/b/hidden.tif", "hidden.tif"])
def test_a_name_from_a_file_never_leads_out_of_the_projects_folder(name: str, tmp_path: Path) -> None:
    (tmp_path / "inner").mkdir()
    write_small_project(tmp_path / "inner" / "small.lacet")
    with open_project(tmp_path / "inner" / "small.lacet") as project:
        assert project.raster_files([name]) == (tmp_path / "inner" / "hidden.tif",)
        assert project.rasters([name]) == ()
        assert project.name == "small"

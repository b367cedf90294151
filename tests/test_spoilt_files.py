"""Five hundred spoilt files, the same in every run: each is read or refused in a sentence."""

from pathlib import Path

import pytest

from tests.small_library import write_small_project
from tests.spoiling import hand_over, seeds, spoilt

CASES = 500


@pytest.mark.filterwarnings("ignore")  # oddities of spoilt pictures and rasters, told by their readers
def test_a_spoilt_file_is_read_or_refused_in_a_sentence(tmp_path: Path) -> None:
    (tmp_path / "made").mkdir()
    sound = seeds(tmp_path / "made")
    project = tmp_path / "office.lacet"
    write_small_project(project)
    for number in range(CASES):
        name, content = spoilt(sound, number)
        try:
            hand_over(name, content, project)
        except Exception as error:
            pytest.fail(f"case {number} ({name}): {error!r}")

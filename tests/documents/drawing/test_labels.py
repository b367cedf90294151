"""Names on maps never touch each other and never leave the map, whatever they are."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import ImageFont

from lacet.documents.drawing.labels import LONGEST_NAME_MM, Box, Name, name_drawn, place
from lacet.documents.drawing.look import COLOUR
from lacet.documents.drawing.widths import shortened, width_mm

AREA = Box(0.0, 0.0, 120.0, 70.0)
SCRIPTS = (
    "Brack Harbour",
    "Αγία Ειρήνη",
    "Верхняя Мельница",
    "北の港の宿",
    "مرفأ النوارس",
    "नया गाँव",
    "🚲 Inn",
)

names = st.lists(
    st.builds(
        Name,
        text=st.one_of(st.sampled_from(SCRIPTS), st.text(max_size=60)),
        x_mm=st.floats(-5, 125),
        y_mm=st.floats(-5, 75),
        clear_mm=st.floats(0.5, 2),
        size_mm=st.floats(2, 4),
        weight=st.floats(0, 100),
    ),
    max_size=40,
    unique_by=lambda name: (name.weight, name.text, name.x_mm, name.y_mm),
)
boxes = st.lists(
    st.builds(lambda x, y: Box(x, y, x + 8, y + 6), st.floats(0, 110), st.floats(0, 60)), max_size=5
)


@given(names, boxes)
def test_no_two_names_touch_and_all_lie_within_the_map(wanted: list[Name], taken: list[Box]) -> None:
    placed = place(wanted, AREA, taken)
    found = [each.box for each in placed]
    assert all(box.within(AREA) for box in found)
    assert not any(box.meets(other) for index, box in enumerate(found) for other in found[:index])
    assert not any(box.meets(other) for box in found for other in taken)
    assert place(list(reversed(wanted)), AREA, taken) == placed


def test_the_least_important_of_crowded_names_is_left_out() -> None:
    crowd = [
        Name(text=f"Hamlet {index}", x_mm=60.0, y_mm=35.0, clear_mm=1.0, size_mm=3.0, weight=float(index))
        for index in range(20)
    ]
    placed = place(crowd, AREA)
    assert 2 <= len(placed) < 20
    assert [each.name.weight for each in placed] == sorted(range(20), reverse=True)[: len(placed)]


def test_a_name_keeps_off_the_lines_where_it_can() -> None:
    right = np.column_stack((np.linspace(60, 120, 100), np.full(100, 35.0)))
    name = Name(text="Oster", x_mm=60.0, y_mm=35.0, clear_mm=1.0, size_mm=3.0, weight=1.0)
    assert place([name], AREA)[0].side == 1
    assert place([name], AREA, (), right)[0].side == -1


@pytest.mark.parametrize("text", ["Brack Harbour", "Illwill Hill", "MMWW", "jetty & quay, 1/2"])
def test_widths_are_never_less_than_those_of_a_usual_face(text: str) -> None:
    """Pillow brings a face of its own, so one is there on every machine."""
    assert width_mm(text, 40.0) >= ImageFont.load_default(40).getlength(text)


def test_east_asian_letters_are_as_wide_as_high_and_combining_marks_take_no_room() -> None:
    assert width_mm("港", 3.0) >= 3.0
    assert width_mm("e\u0301", 3.0) == width_mm("e", 3.0)


def test_a_long_name_is_shortened_to_what_fits() -> None:
    text = shortened("Under Wood by the upper weir and the lower weir and the mill", 3.0, LONGEST_NAME_MM)
    assert text.endswith("…")
    assert 0.9 * LONGEST_NAME_MM < width_mm(text, 3.0) <= LONGEST_NAME_MM


def test_a_name_is_text_whatever_it_says() -> None:
    name = Name(text="</text><b>&\x00\u202e", x_mm=60, y_mm=35, clear_mm=1, size_mm=3, weight=1)
    assert "&lt;/text&gt;&lt;b&gt;&amp;</text>" in name_drawn(place([name], AREA)[0], COLOUR)

"""Maps and profiles of the demo island, read back as XML."""

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import combinations
from xml.etree import ElementTree

import numpy as np
import pytest

from lacet.documents.drawing.look import BLACK, COLOUR, Look
from lacet.documents.drawing.maps import day_map, leg_map, trip_map
from lacet.documents.drawing.profiles import day_profile, leg_profile, trip_profile
from lacet.documents.drawing.proposal import proposal_drawings
from lacet.documents.drawing.scene import Manner, Scene, scene_of
from lacet.documents.language import language
from lacet.documents.material.values import Drawn
from lacet.figures.leg_line import leg_line
from lacet.figures.values import LegFigures
from lacet.trip.catalogue import Catalogue, catalogue_of
from lacet.trip.library import Lodging, Place
from lacet.trip.words import Way
from tests.documents.material.island import assessed, island, told_from, trips

SVG = "{http://www.w3.org/2000/svg}"
HOSTILE = '</text><script>alert(1)</script> & "quoted" \x00\x07 #set text(9pt) 🚲'


@cache
def scene() -> Scene:
    return scene_of(assessed().figures, island())


def all_drawings() -> Iterator[Drawn]:
    manner, figures = Manner(), assessed().figures
    yield trip_map(scene(), manner)
    yield trip_profile(figures, manner)
    for index, day in enumerate(figures.days):
        if day.groups[0].legs:
            yield day_map(scene(), manner, index)
            yield day_profile(figures, manner, index)
    leg = first_leg()
    line = leg_line(island(), leg.leg)
    assert line is not None
    yield leg_map(line, leg, island(), manner, ((1, 0.0), (2, 900.0)))
    yield leg_profile(leg, manner, ((1, 0.0), (2, 900.0)), line.points())


def first_leg() -> LegFigures:
    return next(leg for day in assessed().figures.days for group in day.groups for leg in group.legs)


def texts(drawing: Drawn) -> list[str]:
    return [each.text or "" for each in ElementTree.fromstring(drawing.svg).iter(f"{SVG}text")]


def renamed(name: str) -> Catalogue:
    places = {
        key: {version: replace(item, name=name) for version, item in versions.items()}
        for key, versions in island().items[Place].items()
    }
    return replace(island(), items={**island().items, Place: places})


def test_every_drawing_is_well_formed_and_as_large_as_it_says() -> None:
    for drawing in all_drawings():
        root = ElementTree.fromstring(drawing.svg)
        assert root.get("viewBox") == f"0 0 {drawing.width_mm:g} {drawing.height_mm:g}"
        assert root.get("aria-label") == drawing.alt
        assert drawing.alt.endswith(".")


def test_drawings_carry_no_style_script_id_or_outer_link() -> None:
    for drawing in all_drawings():
        for each in ElementTree.fromstring(drawing.svg).iter():
            assert each.tag.removeprefix(SVG) in {"svg", "g", "rect", "path", "circle", "text", "image"}
            assert not {"style", "id", "class", "onload"} & set(each.attrib)
            assert each.get("href", "data:image/jpeg;base64,").startswith("data:image/jpeg;base64,")


def test_all_texts_lie_within_their_drawing() -> None:
    for drawing in all_drawings():
        for each in ElementTree.fromstring(drawing.svg).iter(f"{SVG}text"):
            assert 0 <= float(each.get("x", "-1")) <= drawing.width_mm
            assert 1.5 <= float(each.get("y", "-1")) <= drawing.height_mm - 0.4


def test_the_overview_numbers_every_day_that_travels_and_names_where_days_end() -> None:
    said = texts(trip_map(scene(), Manner()))
    days = [str(day.number) for day in assessed().figures.days if any(group.legs for group in day.groups)]
    assert [text for text in said if text.isdigit()] == days
    ends = {
        island().place_name(group.end_place or "") for day in assessed().figures.days for group in day.groups
    }
    assert ends <= set(said)


def test_a_days_map_tells_its_own_way_from_the_others() -> None:
    drawing = day_map(scene(), Manner(), 4)
    strokes = [each.get("stroke") for each in ElementTree.fromstring(drawing.svg).iter(f"{SVG}path")]
    own = [leg.way for leg in scene().legs_of(4, 0)]
    assert own == [Way.CYCLING]
    assert COLOUR.bike in strokes
    assert COLOUR.other in strokes


@pytest.mark.parametrize("look", [COLOUR, BLACK])
def test_on_foot_is_dotted_and_by_bike_unbroken(look: Look) -> None:
    root = ElementTree.fromstring(trip_map(scene(), Manner(look=look)).svg)
    for each in root.iter(f"{SVG}path"):
        if each.get("fill") == "none" and each.get("stroke-width") == "0.8":
            assert (each.get("stroke"), each.get("stroke-dasharray")) == (look.foot, "0.01 1.2")
        if each.get("fill") == "none" and each.get("stroke-width") == "0.75":
            assert (each.get("stroke"), each.get("stroke-dasharray")) == (look.bike, None)


def test_alternatives_in_words_tell_day_way_and_length() -> None:
    leg = next(leg for leg in scene().legs if leg.day == 4)
    length = language().wording.length(leg.figures.distance_m)
    alt = day_map(scene(), Manner(), 4).alt
    assert alt == f"Map of day 5: by bike from Sallow Gap to Hollowmere, {length}."
    profile = day_profile(assessed().figures, Manner(), 4).alt
    assert profile.startswith(
        f"Height profile of day 5: {length}, {language().wording.height(leg.figures.ascent_m)} ascent"
    )
    assert "Day 1 ends at Port Verrin, day 2 ends at" in trip_map(scene(), Manner()).alt
    parted = next(
        index
        for index in range(len(trips()))
        if any(len(day.groups) > 1 for day in assessed(index).figures.days)
    )
    assert "Where the group splits" in trip_map(scene_of(assessed(parted).figures, island()), Manner()).alt
    assert "Where the group splits" not in trip_map(scene(), Manner()).alt


def test_imperial_drawings_speak_of_miles_and_feet() -> None:
    manner = Manner(speech=language("en", imperial=True))
    said = texts(trip_map(scene(), manner)) + texts(trip_profile(assessed().figures, manner))
    assert any(re.fullmatch(r"\d+ mi", text) for text in said)
    assert any(re.fullmatch(r"[\d,]+ ft", text) for text in said)
    assert not any(re.search(r"\d k?m$", text) for text in said)


def test_hostile_names_come_out_as_text() -> None:
    drawing = trip_map(scene_of(assessed().figures, renamed(HOSTILE)), Manner())
    root = ElementTree.fromstring(drawing.svg)
    assert not list(root.iter(f"{SVG}script"))
    assert any(text.startswith("</text><script>") for text in texts(drawing))


def test_an_endless_name_is_shortened_and_a_blank_one_left_out() -> None:
    long = texts(trip_map(scene_of(assessed().figures, renamed("Weir " * 1000)), Manner()))
    assert max(len(text) for text in long) < 60
    assert all(text.strip() for text in texts(trip_map(scene_of(assessed().figures, renamed(" ")), Manner())))


def test_unknown_heights_leave_a_gap_in_the_profile() -> None:
    leg = first_leg()
    height = leg.trace.height_m.copy()
    height[len(height) // 3 : len(height) // 2] = np.nan
    holed = replace(leg, ascent_m=None, trace=replace(leg.trace, height_m=height))
    lines = re.findall(r'<path d="[^"]*" fill="none"', leg_profile(holed, Manner()).svg)
    assert len(lines) == len(re.findall(r'<path d="[^"]*" fill="none"', leg_profile(leg, Manner()).svg)) + 1
    assert "not all heights are known" in leg_profile(holed, Manner()).alt


def test_a_leg_without_any_height_still_has_its_axes() -> None:
    leg = first_leg()
    flat = replace(leg, trace=replace(leg.trace, height_m=np.full_like(leg.trace.height_m, np.nan)))
    assert "0 km" in texts(leg_profile(flat, Manner(), ((1, 0.0),)))


def test_numbers_of_a_legs_map_do_not_cover_each_other() -> None:
    leg = first_leg()
    line = leg_line(island(), leg.leg)
    assert line is not None
    crowd = tuple((number, number * 20.0) for number in range(1, 30))
    root = ElementTree.fromstring(leg_map(line, leg, island(), Manner(look=BLACK), crowd).svg)
    discs = [each for each in root.iter(f"{SVG}circle") if each.get("r") == "1.6"]
    centres = [(float(each.get("cx", "0")), float(each.get("cy", "0"))) for each in discs]
    assert len(centres) > 10
    assert min(max(abs(a[0] - b[0]), abs(a[1] - b[1])) for a, b in combinations(centres, 2)) > 3.2


def test_a_day_without_a_stage_has_no_map() -> None:
    with pytest.raises(ValueError, match="On day 1 this group travels no stage"):
        day_map(scene(), Manner(), 0)
    with pytest.raises(ValueError, match="On day 1 this group travels no stage"):
        day_profile(assessed().figures, Manner(), 0)


@pytest.mark.parametrize("trip", range(len(trips())))
def test_a_proposal_has_a_drawing_for_every_key_it_names(trip: int) -> None:
    telling = told_from(trip)
    made = proposal_drawings()(telling)
    groups = [
        f"{telling.day_of(day).id}-{index}"
        for day in telling.figures.days
        for index, group in enumerate(day.groups, start=1)
        if group.legs
    ]
    wanted = {"map-trip", "profile-trip", *(f"{kind}-{key}" for kind in ("map", "profile") for key in groups)}
    assert set(made) == wanted


@pytest.mark.parametrize("look", [COLOUR, BLACK])
def test_text_stands_out_from_its_grounds(look: Look) -> None:
    """WCAG 2.2, 1.4.3: 4.5 to 1, by its definition of relative luminance."""
    grounds = [look.paper, look.ground, look.sea, look.foot_fill, look.bike_fill]
    grounds += ["#{:02x}{:02x}{:02x}".format(*step) for step in look.tint.steps]
    for ground in grounds:
        assert contrast(look.ink, ground) >= 4.5
        assert contrast(look.quiet, ground) >= 4.5


def contrast(first: str, second: str) -> float:
    high, low = sorted((luminance(first), luminance(second)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def luminance(colour: str) -> float:
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def test_what_cannot_be_written_leaves_only_its_mark() -> None:
    manner = Manner(written=lambda name: "" if name == "Hollowmere" else name)
    assert set(texts(trip_map(scene(), Manner()))) - set(texts(trip_map(scene(), manner))) == {"Hollowmere"}


def test_a_house_is_shown_where_it_can_be_told_from_its_place() -> None:
    leg = first_leg()
    line = leg_line(island(), leg.leg)
    assert line is not None
    houses = [house for house in island().current(Lodging) if house.place == leg.from_place]
    named = texts(leg_map(line, leg, island(), Manner(), houses=houses))
    assert {house.name for house in houses} & set(named)
    bare = texts(leg_map(line, leg, island(), Manner()))
    assert not {house.name for house in houses} & set(bare)


def test_the_nights_of_a_scene_are_those_of_its_days() -> None:
    days = trips()[0].variants[0].days
    whole = scene_of(assessed().figures, island(), days)
    for index, day in enumerate(days):
        own = {house.id for house in whole.houses_of(index, 0)}
        assert own == {night.lodging.id for night in day.nights}
    assert scene().houses_of(0, 0) == ()


def test_a_legs_map_names_both_its_ends() -> None:
    """Among numbered directions as well: each leg of the first trip, with a direction every kilometre."""
    for day in assessed().figures.days:
        for leg in (leg for group in day.groups for leg in group.legs):
            line = leg_line(island(), leg.leg)
            assert line is not None
            numbered = tuple(
                (number, at_m) for number, at_m in enumerate(np.arange(0, leg.distance_m, 1000.0), 1)
            )
            said = texts(leg_map(line, leg, island(), Manner(look=BLACK), (*numbered, (99, leg.distance_m))))
            assert {island().place_name(end) for end in (leg.from_place, leg.to_place) if end} <= set(said)


def test_a_trip_without_days_has_a_map_of_the_library_and_an_empty_library_an_empty_one() -> None:
    empty = replace(assessed().figures, days=(), travellers=())
    said = texts(trip_map(scene_of(empty, island()), Manner()))
    assert {item.name for item in island().current(Place)} & set(said)
    bare = trip_map(scene_of(empty, catalogue_of(())), Manner())
    assert ElementTree.fromstring(bare.svg).get("aria-label") == bare.alt

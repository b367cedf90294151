"""Photographs come in small, upright and without what a camera knows; hostile files get a sentence."""

import io
import struct
import zlib
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageCms, PngImagePlugin

from lacet.intake.pictures import PictureRefused, prepare_picture, read_picture

ORIENTATION, GPS, MAKER = 0x0112, 0x8825, 0x010F
SECRET = b"SECRETLY-NOTED"


def photograph(width: int = 400, height: int = 200) -> Image.Image:
    """Red on the left, blue on the right."""
    pixels = np.zeros((height, width, 3), dtype=np.uint8)
    pixels[:, : width // 2, 0] = 220
    pixels[:, width // 2 :, 2] = 220
    return Image.fromarray(pixels)


def packed(image: Image.Image, kind: str = "JPEG", **more: object) -> bytes:
    file = io.BytesIO()
    image.save(file, format=kind, **more)
    return file.getvalue()


def with_notes(orientation: int = 1) -> bytes:
    notes = Image.Exif()
    notes[ORIENTATION] = orientation
    notes[MAKER] = SECRET.decode()
    notes.get_ifd(GPS).update({1: "N", 2: (44.0, 12.0, 34.567), 3: "W", 4: (24.0, 36.0, 0.0)})
    return packed(photograph(), exif=notes, comment=SECRET)


def opened(payload: bytes) -> Image.Image:
    return Image.open(io.BytesIO(payload))


def chunk(kind: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def png_of(width: int, height: int, body: bytes) -> bytes:
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", body) + chunk(b"IEND", b"")


def refusal(payload: bytes, name: str = "house.jpg") -> str:
    with pytest.raises(PictureRefused) as refused:
        prepare_picture(payload, name)
    said = str(refused.value)
    assert said.startswith(f"{name}: ")
    assert said.endswith(".")
    assert "\n" not in said
    return said


def test_positions_and_other_notes_are_gone() -> None:
    before = with_notes()
    assert SECRET in before
    assert dict(opened(before).getexif().get_ifd(GPS))
    made = prepare_picture(before, "house.jpg")
    assert SECRET not in made.payload
    assert b"Exif" not in made.payload
    assert not dict(opened(made.payload).getexif())
    assert set(opened(made.payload).info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}


@pytest.mark.parametrize("kind", ["PNG", "WEBP"])
def test_notes_of_other_kinds_are_gone_too(kind: str) -> None:
    notes = PngImagePlugin.PngInfo()
    notes.add_text("Comment", SECRET.decode())
    exif = Image.Exif()
    exif[MAKER] = SECRET.decode()
    extra = {"pnginfo": notes} if kind == "PNG" else {}
    before = packed(photograph(), kind, exif=exif, xmp=SECRET, **extra)
    assert SECRET in before
    assert SECRET not in prepare_picture(before, "house").payload


@pytest.mark.parametrize(
    ("orientation", "upright", "red_corner"),
    [
        (1, (400, 200), (5, 100)),
        (3, (400, 200), (395, 100)),
        (6, (200, 400), (100, 5)),
        (8, (200, 400), (100, 395)),
    ],
)
def test_a_picture_is_turned_as_its_camera_says(
    orientation: int, upright: tuple[int, int], red_corner: tuple[int, int]
) -> None:
    """Exif 2.32, tag 274: 1 upright, 3 half a turn, 6 a quarter to the right, 8 a quarter to the left."""
    made = opened(prepare_picture(with_notes(orientation), "house.jpg").payload)
    assert made.size == upright
    red, _, blue = made.convert("RGB").getpixel(red_corner)  # type: ignore[misc]  # three bands make a tuple
    assert red > 180 > 60 > blue


@pytest.mark.parametrize(
    ("size", "becomes"),
    [
        ((4000, 3000), (1600, 1200)),
        ((1000, 5000), (320, 1600)),
        ((640, 480), (640, 480)),
        ((20_000, 1_000), (1600, 80)),
    ],
)
def test_pictures_shrink_to_1600_pixels_and_never_grow(
    size: tuple[int, int], becomes: tuple[int, int]
) -> None:
    made = prepare_picture(packed(photograph(*size)), "house.jpg")
    assert (made.width, made.height) == becomes == opened(made.payload).size
    assert made.media_type == "image/jpeg"


@pytest.mark.parametrize("mode", ["L", "P", "RGBA", "LA", "CMYK", "I;16", "1"])
def test_every_kind_of_pixel_becomes_plain_colour(mode: str) -> None:
    if mode == "I;16":
        image = Image.fromarray(np.full((150, 150), 40_000, dtype=np.uint16))
    else:
        image = photograph(150, 150).convert(mode)
    made = opened(prepare_picture(packed(image, "TIFF" if mode == "CMYK" else "PNG") if mode != "CMYK"
                                  else packed(image, "JPEG"), "house.png").payload)  # fmt: skip
    assert made.mode == "RGB"
    if mode == "I;16":
        assert made.getpixel((50, 50)) == pytest.approx((156, 156, 156), abs=2)


def test_what_is_clear_becomes_white() -> None:
    made = opened(
        prepare_picture(packed(Image.new("RGBA", (150, 150), (0, 0, 0, 0)), "PNG"), "x.png").payload
    )
    assert made.getpixel((75, 75)) == pytest.approx((255, 255, 255), abs=2)


def test_colours_of_another_profile_are_brought_to_srgb() -> None:
    """The same numbers mean another colour in another space; a plain sRGB profile changes nothing."""
    srgb = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    made = prepare_picture(packed(photograph(), icc_profile=srgb), "house.jpg")
    assert opened(made.payload).convert("RGB").getpixel((50, 100)) == pytest.approx((220, 0, 0), abs=6)
    assert "icc_profile" not in opened(made.payload).info


def test_a_spoilt_profile_or_spoilt_notes_do_not_spoil_the_picture() -> None:
    assert prepare_picture(packed(photograph(), icc_profile=b"none"), "house.jpg").width == 400
    assert (
        prepare_picture(packed(photograph(), exif=b"Exif\0\0II*\0\xff\xff\xff\xff"), "house.jpg").width == 400
    )


@pytest.mark.parametrize(
    ("payload", "says"),
    [
        (b"", "empty"),
        (b"hello", "no JPEG, PNG or WebP"),
        (b"\x00\x00\x00\x18ftypheic" + bytes(40), "HEIC"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'><script/></svg>", "SVG"),
        (b"\xef\xbb\xbf<?xml version='1.0'?><svg/>", "SVG"),
        (b"GIF89a" + bytes(40), "no JPEG, PNG or WebP"),
        (b"%PDF-1.7", "no JPEG, PNG or WebP"),
        (b"\xff\xd8\xff\xe0", "damaged"),
        (b"\x89PNG\r\n\x1a\n", "damaged"),
        (b"RIFF\x00\x00\x00\x00WEBPVP8 ", "damaged"),
    ],
)
def test_what_is_no_picture_is_refused_in_a_sentence(payload: bytes, says: str) -> None:
    assert says in refusal(payload)


def test_a_truncated_picture_is_refused() -> None:
    assert "damaged" in refusal(packed(photograph(3000, 2000))[:9000])
    assert "damaged" in refusal(packed(photograph(), "PNG")[:-60])


def test_enormous_dimensions_are_refused_before_anything_is_unpacked() -> None:
    assert "far larger" in refusal(png_of(60_000, 60_000, zlib.compress(bytes(1000))))
    assert "far larger" in refusal(png_of(2_000_000_000, 2_000_000_000, zlib.compress(bytes(1000))))
    assert "far larger" in refusal(png_of(9_500, 9_500, zlib.compress(bytes(1000))))


def test_a_text_that_unfolds_without_end_is_refused_or_left_out() -> None:
    bomb = chunk(b"zTXt", b"Comment\0\0" + zlib.compress(bytes(80_000_000), 9))
    whole = packed(photograph(), "PNG")
    refusal(whole[:33] + bomb + whole[33:])


def test_a_tiny_picture_is_refused() -> None:
    assert "8 by 8 pixels" in refusal(packed(Image.new("RGB", (8, 8)), "PNG"))


def test_a_file_is_read_and_named(tmp_path: Path) -> None:
    (tmp_path / "inn.png").write_bytes(packed(photograph(), "PNG"))
    assert read_picture(tmp_path / "inn.png").width == 400
    with pytest.raises(PictureRefused, match=r"^gone\.jpg: there is no such file"):
        read_picture(tmp_path / "gone.jpg")


@given(st.data())
def test_a_broken_file_is_refused_or_becomes_a_plain_picture(data: st.DataObject) -> None:
    whole = bytearray(with_notes())
    for _ in range(data.draw(st.integers(1, 12))):
        whole[data.draw(st.integers(3, len(whole) - 1))] = data.draw(st.integers(0, 255))
    try:
        made = prepare_picture(bytes(whole), "x.jpg")
    except PictureRefused:
        return
    assert opened(made.payload).mode == "RGB"

"""A photograph as an operator has it, made into one that documents can carry: small, upright, and silent.

What comes out is drawn anew from the pixels, so nothing else of the file is left: no position, no camera, no
time, no hidden preview. A file that isn't a plain picture, or unfolds to more than any camera takes, is
refused in a sentence.
"""

import io
import warnings
from dataclasses import dataclass
from pathlib import Path

from PIL import Image, ImageCms, ImageOps

from lacet.files import FileRefused, whole
from lacet.language import Text, to_say
from lacet.trip.errors import LacetError

LONGEST_SIDE_PX = 1600
LEAST_SIDE_PX = 100
MOST_BYTES = 60_000_000
MOST_PIXELS = 80_000_000
QUALITY = 84
MEDIA_TYPE = "image/jpeg"
FORMATS = ("JPEG", "PNG", "WEBP")
# 16-bit grey as cameras and scanners store it.
_SIXTEEN_BITS = 256

_SAVE_AS = "save it as JPEG or PNG and take that"


@dataclass(frozen=True, slots=True)
class PreparedPicture:
    """A picture ready to be kept; width and height in pixels."""

    payload: bytes
    media_type: str
    width: int
    height: int


class PictureRefused(LacetError):
    """A file that can't be taken in as a picture."""

    def __init__(self, name: str, reason: str | Text) -> None:
        super().__init__("{name}: {reason}", name=name, reason=reason)
        self.name = name
        self.reason = reason


def read_picture(path: Path) -> PreparedPicture:
    """Return the picture in a file, ready to be kept.

    Raises
    ------
    PictureRefused
        When the file can't be read, or isn't a JPEG, PNG or WebP picture of a usual size.
    """
    try:
        payload = whole(path, MOST_BYTES)
    except FileRefused as refusal:
        raise PictureRefused(path.name, to_say("{reason}.", reason=refusal.reason)) from refusal
    return prepare_picture(payload, path.name)


def prepare_picture(payload: bytes, name: str) -> PreparedPicture:
    """Return a picture at most 1600 pixels wide or high, upright and without anything but its pixels.

    Parameters
    ----------
    name
        What the person calls the file, for the sentence when it is refused.

    Raises
    ------
    PictureRefused
    """
    if len(payload) > MOST_BYTES:
        raise PictureRefused(name, _too_large())
    other = _other_kind(payload)
    if other:
        raise PictureRefused(name, other)
    try:
        return _small(payload, name)
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        raise PictureRefused(name, _too_large()) from error
    # Pillow's readers answer broken files with any of these.
    except (
        OSError,
        SyntaxError,
        ValueError,
        TypeError,
        KeyError,
        IndexError,
        EOFError,
        MemoryError,
    ) as error:
        reason = "the picture is damaged or not whole; copy or export it again."
        raise PictureRefused(name, reason) from error


def _too_large() -> str:
    return f"the picture is far larger than any camera's; make it smaller, to {LONGEST_SIDE_PX} pixels or so."


def _other_kind(payload: bytes) -> str:
    """What is wrong with a file that isn't one of the three kinds, '' for one that is."""
    begins = payload[:512].lstrip(b"\xef\xbb\xbf \t\r\n").lower()
    if payload.startswith((b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n")):
        return ""
    if payload[:4] == b"RIFF" and payload[8:12] == b"WEBP":
        return ""
    if payload[4:8] == b"ftyp":
        return f"this is a HEIC, AVIF or video file, which can't be read here; {_SAVE_AS}."
    if begins.startswith((b"<svg", b"<?xml", b"<!doctype svg")):
        return f"this is a drawing (SVG), not a photograph; {_SAVE_AS}."
    if not payload:
        return "the file is empty."
    return f"this is no JPEG, PNG or WebP picture; {_SAVE_AS}."


def _small(payload: bytes, name: str) -> PreparedPicture:
    with warnings.catch_warnings():
        warnings.simplefilter("error", Image.DecompressionBombWarning)
        # Oddities of harmless files are no news to anybody here.
        warnings.filterwarnings("ignore", category=UserWarning)
        with Image.open(io.BytesIO(payload), formats=FORMATS) as source:
            width, height = source.size
            if width * height > MOST_PIXELS:
                raise PictureRefused(name, _too_large())
            if max(width, height) < LEAST_SIDE_PX:
                reason = f"with {width} by {height} pixels it is too small for a document; take a larger one."
                raise PictureRefused(name, reason)
            # A JPEG is unpacked no larger than needed.
            source.draft("RGB", (LONGEST_SIDE_PX, LONGEST_SIDE_PX))
            source.load()
            return _packed(_flat(_true_colours(_upright(source))))


def _upright(image: Image.Image) -> Image.Image:
    try:
        return ImageOps.exif_transpose(image)
    except Exception:
        # Spoilt notes about the picture don't spoil the picture.
        return image


def _true_colours(image: Image.Image) -> Image.Image:
    """The picture in sRGB, which is what pages expect that say nothing else."""
    profile = image.info.get("icc_profile")
    if image.mode not in {"RGB", "CMYK"} or not profile:
        return image
    try:
        own = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        made = ImageCms.profileToProfile(image, own, ImageCms.createProfile("sRGB"), outputMode="RGB")
    except (ImageCms.PyCMSError, OSError, ValueError):
        return image
    return image if made is None else made


def _flat(image: Image.Image) -> Image.Image:
    """A new picture that has only the pixels of the old one, on white where it was clear."""
    if image.mode.startswith("I"):
        image = image.convert("I").point(lambda value: value / _SIXTEEN_BITS).convert("L")
    image.thumbnail((LONGEST_SIDE_PX, LONGEST_SIDE_PX), Image.Resampling.LANCZOS)
    flat = Image.new("RGB", image.size, "white")
    clear = image.has_transparency_data
    layered = image.convert("RGBA") if clear else image.convert("RGB")
    flat.paste(layered, mask=layered.getchannel("A") if clear else None)
    return flat


def _packed(image: Image.Image) -> PreparedPicture:
    packed = io.BytesIO()
    image.save(packed, format="JPEG", quality=QUALITY, optimize=True)
    return PreparedPicture(packed.getvalue(), MEDIA_TYPE, image.width, image.height)

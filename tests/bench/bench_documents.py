"""A 10-day proposal as PDF, pictures included, beside the same page printed by a browser engine.

Both begin with what is gathered and drawn, and end with the bytes of a PDF. The browser has loaded its page
before. Each run has texts of its own, so that neither can hand out what it made before. The goal is 4 times
faster, and tagged, which the browser's isn't. Run with `tests/run.py --bench`.
"""

from __future__ import annotations

import base64
import io
import os
import statistics
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
if hasattr(os, "geteuid") and os.geteuid() == 0:
    # A browser engine refuses its sandbox to root, as in a container.
    os.environ.setdefault("QTWEBENGINE_CHROMIUM_FLAGS", "--no-sandbox --disable-gpu")
sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "app"))

import numpy as np
from PIL import Image
from pypdf import PdfReader
from PySide6.QtCore import QEventLoop, QUrl
from PySide6.QtWebEngineCore import QWebEnginePage
from PySide6.QtWidgets import QApplication

from lacet.assess import assess
from lacet.demo import demo_items, demo_tracks, demo_trips
from lacet.demo.building import demo_settings
from lacet.documents.drawing.proposal import proposal_drawings
from lacet.documents.language import language
from lacet.documents.material.gather import gather, telling_of
from lacet.documents.material.values import Drawn, ProposalMaterial, Shown
from lacet.documents.proposal.html import write_html
from lacet.documents.proposal.pdf import paper_drawings, write_pdf
from lacet.inputs import Inputs
from lacet.resources import example_project
from lacet.tracks.raster_files import readable
from lacet.trip import edits
from lacet.trip.catalogue import catalogue_of
from lacet.trip.house_rules import HouseRules

RUNS = 7
DAYS = 10
AS_OF = date(2026, 11, 25)
MADE_AT = datetime(2026, 11, 25, 12, tzinfo=UTC)
PHOTO_PX = (1600, 1066)


def photo(seed: int) -> Shown:
    """A picture of a photograph's size and weight: soft hills of noise."""
    coarse = np.random.default_rng(seed).integers(0, 255, (24, 36, 3), dtype=np.uint8)
    packed = io.BytesIO()
    Image.fromarray(coarse).resize(PHOTO_PX, Image.Resampling.BICUBIC).save(packed, "JPEG", quality=82)
    payload = base64.b64encode(packed.getvalue()).decode()
    return Shown(payload=payload, media_type="image/jpeg", alt=f"Hills {seed}", credit="Drawn by a program")


def material() -> tuple[ProposalMaterial, dict[str, Drawn]]:
    """The mixed demo trip over ten days with a picture on every day, and its drawings for paper."""
    trip = demo_trips()[0]
    first = trip.variants[0]
    chosen = tuple(day.id for day in first.days[1 : 1 + DAYS - len(first.days)])
    trip = edits.take_days(trip, first.id, chosen, first.id, 1)
    variant = trip.variants[0]
    region, office = demo_settings()
    catalogue = catalogue_of(demo_items(), dict(demo_tracks()), region, office)
    inputs = Inputs(trip, variant.id, catalogue, HouseRules(), as_of=AS_OF)
    rasters = readable(Path(str(example_project("verrin"))) / name for name in region.rasters)
    telling = telling_of(inputs, assess(inputs), language(), revision=1, made_at=MADE_AT)
    made = gather(telling, drawings=proposal_drawings(rasters))
    return _pictured(made), paper_drawings(telling, rasters)


def _pictured(made: ProposalMaterial) -> ProposalMaterial:
    days, pictures = [], {}
    for number, day in enumerate(made.days):
        key = f"picture-{number}"
        pictures[key] = photo(number)
        ways = tuple(
            replace(way, legs=(replace(way.legs[0], picture_key=key), *way.legs[1:])) if way.legs else way
            for way in day.ways
        )
        beds = tuple(replace(bed, picture_key=key) for bed in day.beds) if not day.ways[0].legs else day.beds
        days.append(replace(day, ways=ways, beds=beds))
    return replace(made, days=tuple(days), pictures=pictures)


def varied(made: ProposalMaterial, run: int) -> ProposalMaterial:
    """The same proposal with other texts on every day."""
    days = tuple(replace(day, notes=(*day.notes, f"Told for the {run}th time.")) for day in made.days)
    return replace(made, days=days, edition=f"Revision {run}")


class Browser:
    """A page of the browser engine, loaded from a file and printed."""

    def __init__(self, folder: Path) -> None:
        self.file = folder / "proposal.html"
        self.page = QWebEnginePage()

    def load(self, page: bytes) -> None:
        self.file.write_bytes(page)
        loop = QEventLoop()
        self.page.loadFinished.connect(loop.quit)
        self.page.load(QUrl.fromLocalFile(str(self.file)))
        loop.exec()

    def printed(self) -> bytes:
        loop = QEventLoop()
        made: list[bytes] = []

        def done(content: object) -> None:
            made.append(bytes(content))  # type: ignore[call-overload]  # a QByteArray, typed as an object
            loop.quit()

        self.page.printToPdf(done)
        loop.exec()
        return made[0]


def seconds(work: Callable[[], object]) -> float:
    started = time.perf_counter()
    work()
    return time.perf_counter() - started


def tagged(pdf: bytes) -> bool:
    return "/StructTreeRoot" in PdfReader(io.BytesIO(pdf)).root_object


def _told(taken: list[float], pdf: bytes) -> str:
    structure = "tagged" if tagged(pdf) else "untagged"
    return f"{statistics.median(taken) * 1000:8.0f} ms, {len(pdf) // 1000} kB, {structure}"


def main() -> None:
    application = QApplication.instance() or QApplication([])
    made, drawings = material()
    first_s = seconds(lambda: write_pdf(varied(made, 0), MADE_AT, drawings=drawings))
    with TemporaryDirectory() as folder:
        browser = Browser(Path(folder))
        ours, theirs = [], []
        for run in range(1, RUNS + 1):
            told = varied(made, run)
            browser.load(write_html(told))
            theirs.append(seconds(browser.printed))
            ours.append(seconds(partial(write_pdf, told, MADE_AT, drawings=drawings)))
        pdf, other = write_pdf(made, MADE_AT, drawings=drawings), browser.printed()
        browser.page.deleteLater()
    ratio = statistics.median(theirs) / statistics.median(ours)
    print(f"A {DAYS}-day proposal as PDF, {len(made.pictures)} pictures")
    print(f"  printed by a browser engine / set by us    {ratio:8.2f}   (goal 4)")
    print(f"  set by us                                  {_told(ours, pdf)}")
    print(f"  set by us, the first of a process          {first_s * 1000:8.0f} ms")
    print(f"  printed by a browser engine                {_told(theirs, other)}")
    del application


if __name__ == "__main__":
    main()

"""GPX that is refused: damaged, foreign, hostile; each in one sentence."""

from __future__ import annotations

import gzip
import io
import zipfile
from pathlib import Path

import pytest

from lacet.tracks.gpx_parser import MOST_ATTRIBUTES, MOST_NAMESPACES
from lacet.tracks.gpx_read import read_gpx
from tests.tracks.lines import CLIMB_POINTS, GPX_11, gpx, refusal, trk, warnings

CLIMB = gpx(trk(CLIMB_POINTS, "Forêt – Überschreitung"))


def zipped() -> bytes:
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w") as archive:
        archive.writestr("a.gpx", CLIMB)
    return buffer.getvalue()


CUT = CLIMB[: CLIMB.index(b"<ele>1060") + 3]

REFUSED = {
    "empty": (b"", "the file is empty"),
    "zip": (zipped(), "ZIP archive; unpack it"),
    "gzip": (gzip.compress(CLIMB), "gzip archive; unpack it"),
    "picture": (b"\x89PNG\r\n\x1a\n" + bytes(200), "PNG picture"),
    "junk": (bytes(range(97, 123)) * 9, "no XML text"),
    "binary": (bytes(range(256)) * 9, "line"),
    "web page": (b"<!-- hi --><html><body><p>log in</body></html>", "web page"),
    "TCX": (b"<TrainingCenterDatabase xmlns='urn:x'><a/></TrainingCenterDatabase>", "TCX"),
    "KML": (b'<kml xmlns="http://www.opengis.net/kml/2.2"/>', "KML"),
    "other root": (b"<feed/>", "outermost element is <feed>"),
    "encoding unknown": (b'<?xml version="1.0" encoding="x-klingon"?><gpx/>', "'x-klingon' isn't known"),
    "UTF-7": (b'<?xml version="1.0" encoding="UTF-7"?><gpx/>', "'UTF-7' isn't read"),
    "rot13": (b'<?xml version="1.0" encoding="rot13"?><gpx/>', "'rot13' isn't read"),
    "damaged Big5": (b'<?xml version="1.0" encoding="big5"?>\n<gpx>\n\xff\xff</gpx>', "it isn't big5"),
    "cut in a tag": (CUT, "line 10: the file is cut off"),
    "cut in a character": (gpx(trk("")).split(b"Ridge")[0] + "é".encode()[:1], "cut off"),
    "cut between tags": (CLIMB[:-8], "cut off"),
    "two documents": (CLIMB + CLIMB, "line 17: "),
    "text after the end": (CLIMB + b"bye", "after the end"),
    "bare ampersand": (gpx(trk(CLIMB_POINTS, "up & down")), "line 3: a character"),
    "NUL": (CLIMB.replace(b"<ele>1030", b"<ele>10\x0030"), "line 7: a character"),
    "control character": (gpx(trk(CLIMB_POINTS, "a&#8;b")), "line 3: a character"),
    "unknown entity": (gpx(trk(CLIMB_POINTS, "a&nbsp;b")), "line 3: an entity"),
    "wrong end tag": (gpx("<trk><name>a</trk></name>"), "line 3: a tag is closed"),
    "attribute twice": (gpx(trk('<trkpt lat="1" lat="2" lon="3"/>')), "line 4: an attribute is given twice"),
    "document type": (
        b'<!DOCTYPE gpx SYSTEM "http://127.0.0.1:9/x.dtd">\n<gpx/>',
        "line 1: the file declares",
    ),
    "no valid position": (
        gpx(trk('<trkpt lat="5155000" lon="680000"/>\n' * 5)),
        "none of its 5 positions is valid",
    ),
    "decimal commas": (gpx(trk('<trkpt lat="46,5" lon="11,3"/>')), "('46,5, 11,3')"),
    "position as elements": (gpx(trk("<trkpt><lat>46</lat><lon>11</lon></trkpt>")), "without a position"),
    "hollow route": (gpx("<rte></rte>"), "line 3: the route has no points"),
}


@pytest.mark.parametrize("case", REFUSED)
def test_damaged_and_foreign_files_are_refused_in_one_sentence(case: str) -> None:
    document, says = REFUSED[case]
    assert says in str(refusal(document))


def test_a_document_without_any_point_is_read_and_told() -> None:
    file = read_gpx(gpx("<metadata><name>x</name></metadata><trk><name>later</name></trk>"))
    assert file.lines == ()
    assert "holds no track, route or waypoint" in warnings(file)


def test_entities_are_never_expanded_and_nothing_is_fetched(tmp_path: Path) -> None:
    secret = tmp_path / "secret.txt"
    secret.write_text("hush")
    external = (
        f'<!DOCTYPE gpx [<!ENTITY x SYSTEM "{secret.as_uri()}">]>\n<gpx><trk><name>&x;</name></trk></gpx>'
    )
    assert "hush" not in str(refusal(external))
    laughs = '<!DOCTYPE lolz [<!ENTITY a "ha">' + "".join(
        f'<!ENTITY {chr(98 + n)} "{f"&{chr(97 + n)};" * 10}">' for n in range(12)
    )
    assert "DOCTYPE" in str(refusal(f"{laughs}]>\n<gpx><name>&m;</name></gpx>"))


def test_included_files_are_not_followed() -> None:
    include = '<xi:include xmlns:xi="http://www.w3.org/2001/XInclude" href="secret.txt" parse="text"/>'
    assert read_gpx(gpx(trk(CLIMB_POINTS, include))).lines[0].name == ""


def test_depth_is_bounded() -> None:
    assert "nested deeper" in str(refusal(gpx("<a>" * 100_000 + "</a>" * 100_000)))
    deep = "<x>" * 3_000 + "</x>" * 3_000
    assert "nested deeper" in str(refusal(gpx(trk(CLIMB_POINTS.replace("</ele>", f"</ele>{deep}", 1)))))


def test_namespaces_and_attributes_are_bounded() -> None:
    many = " ".join(f'xmlns:n{n}="urn:{n}"' for n in range(MOST_NAMESPACES + 1))
    assert "namespaces" in str(refusal(gpx(trk(CLIMB_POINTS), root=f"{GPX_11} {many}")))
    attributes = " ".join(f'a{n}="1"' for n in range(MOST_ATTRIBUTES + 1))
    assert "attributes" in str(refusal(gpx(trk(f'<trkpt lat="1" lon="1" {attributes}/>'))))


def test_one_endless_tag_is_refused_early() -> None:
    assert "longer than 1 MB" in str(refusal(b"<gpx " + b"a" * 3_000_000))


def test_endless_different_names_are_refused() -> None:
    names = "".join(f"<n{n}/>" for n in range(20_000))
    assert "different names" in str(refusal(gpx(names)))


def test_a_file_too_large_is_refused_before_it_is_read(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("lacet.tracks.gpx_source.LARGEST_FILE_BYTES", 1024)
    assert "larger than" in str(refusal(CLIMB))


@pytest.mark.parametrize(
    ("bound", "body"), [("MOST_LINES", "<trk/>"), ("MOST_WAYPOINTS", '<wpt lat="1" lon="1"/>')]
)
def test_tracks_and_waypoints_are_bounded(monkeypatch: pytest.MonkeyPatch, bound: str, body: str) -> None:
    monkeypatch.setattr(f"lacet.tracks.gpx_parser.{bound}", 10)
    assert "more than 10" in str(refusal(gpx(body * 11)))

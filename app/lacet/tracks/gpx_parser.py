"""The state machine between expat and the reader: which element means what where, and what is out of bounds.

The tree of elements is a tree of `_Node`; the parser stands at one node. An element the node doesn't know
is left out with all it holds: two small handlers only count its depth.
"""

from __future__ import annotations

import pyexpat
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Literal

from lacet.language import to_say
from lacet.tracks.gpx_document import LineKind
from lacet.tracks.gpx_points import Points
from lacet.tracks.gpx_words import one_line, refusal_for_root
from lacet.tracks.problem import GpxRefused, Problem

DEEPEST_NESTING = 200
LONGEST_TOKEN_BYTES = 1024 * 1024
LONGEST_TEXT = 10_000
MOST_ATTRIBUTES = 100
MOST_NAMESPACES = 1_000
MOST_NAMES = 10_000
MOST_LINES = 10_000
MOST_WAYPOINTS = 100_000

_VERSIONS = ("1.0", "1.1")
_POSITIONED = frozenset({"trk", "rte", "wpt", "trkseg", "trkpt", "rtept"})


@dataclass(slots=True)
class _Node:
    """An element with a meaning: what it may hold, and what happens at its start, its end, with its text."""

    children: dict[str, _Node] = field(default_factory=dict)
    starts: Callable[[list[str]], None] | None = None
    takes: Callable[[str], None] | None = None


@dataclass(slots=True)
class RawLine:
    """A track or route as it is being read."""

    kind: LineKind
    line_number: int
    points: Points = field(default_factory=Points)
    texts: dict[str, str] = field(default_factory=dict)
    is_hollow: bool = True


class GpxParser:
    """Reads one document, fed in pieces of UTF-8.

    Parameters
    ----------
    name
        How sentences name the file.
    declares_prefixes
        Whether every prefix is declared, as it should be. If not, elements with a prefix other than the
        root's are taken as foreign.
    """

    def __init__(self, name: str, *, declares_prefixes: bool = True) -> None:
        self.name = name
        self.lines: list[RawLine] = []
        self.waypoints = Points()
        self.waypoint_texts: list[dict[str, str]] = []
        self.problems: list[Problem] = []
        self._fed = 0
        self._namespaces = 0
        self._stack: list[_Node] = []
        self._node = _Node()
        self._skipped = 0
        self._text: list[str] = []
        self._text_length = 0
        self._prefix = ""
        self._root_seen = False
        self._expat = pyexpat.ParserCreate("utf-8", " " if declares_prefixes else None)
        self._listen()

    def feed(self, piece: bytes) -> None:
        """Take the next piece.

        Raises
        ------
        pyexpat.ExpatError
            When the XML is damaged.
        GpxRefused
            When the document isn't GPX or is out of bounds.
        """
        self._expat.Parse(piece, False)
        self._fed += len(piece)
        # Expat starts a token anew with every piece, so one endless token would cost the square of its
        # length.
        if self._fed - self._expat.CurrentByteIndex > LONGEST_TOKEN_BYTES:
            raise self._refused("one tag is longer than 1 MB")
        if len(self._expat.intern) > MOST_NAMES:
            raise self._refused(f"more than {MOST_NAMES} different names of elements and attributes")
        self.waypoints.flush(keep_last=True)
        if self.lines:
            self.lines[-1].points.flush(keep_last=True)

    def close(self) -> None:
        """End the document; raises as `feed` does."""
        self._expat.Parse(b"", True)

    @property
    def line_number(self) -> int:
        """The line the parser stands at."""
        return self._expat.CurrentLineNumber

    def _listen(self) -> None:
        expat = self._expat
        expat.ordered_attributes = True
        expat.buffer_text = True
        expat.StartElementHandler = self._start
        expat.EndElementHandler = self._end
        expat.StartDoctypeDeclHandler = self._refuse_document_type
        expat.StartNamespaceDeclHandler = self._count_namespace

    def _start(self, element: str, attributes: list[str]) -> None:
        child = self._node.children.get(element)
        if child is None:
            if self._root_seen:
                self._skip(element)
            else:
                self._begin_document(element, attributes)
            return
        self._stack.append(self._node)
        self._node = child
        if child.starts is not None:
            child.starts(attributes)
        if child.takes is not None:
            self._expat.CharacterDataHandler = self._collect

    def _end(self, _element: str) -> None:
        takes = self._node.takes
        if takes is not None:
            self._expat.CharacterDataHandler = None
            takes("".join(self._text))
            self._text.clear()
            self._text_length = 0
        self._node = self._stack.pop()

    def _collect(self, text: str) -> None:
        if self._text_length < LONGEST_TEXT:
            self._text.append(text)
        self._text_length += len(text)

    def _skip(self, element: str) -> None:
        if self.lines:
            self.lines[-1].is_hollow = False
        local = element.rpartition(" ")[2].rpartition(":")[2]
        if len(self._stack) == 1 and local in _POSITIONED:
            self._note(f"A <{local}> that belongs to another namespace was left out.")
        self._skipped = 1
        self._expat.StartElementHandler = self._skip_start
        self._expat.EndElementHandler = self._skip_end

    def _skip_start(self, _element: str, _attributes: list[str]) -> None:
        self._skipped += 1
        if self._skipped + len(self._stack) > DEEPEST_NESTING:
            raise self._refused(f"elements are nested deeper than {DEEPEST_NESTING}")

    def _skip_end(self, _element: str) -> None:
        self._skipped -= 1
        if not self._skipped:
            self._expat.StartElementHandler = self._start
            self._expat.EndElementHandler = self._end

    def _begin_document(self, element: str, attributes: list[str]) -> None:
        root = element.rpartition(" ")[2].rpartition(":")[2]
        if root.lower() != "gpx":
            raise refusal_for_root(root, self.name, self.line_number)
        self._root_seen = True
        self._prefix = element[: -len(root)]
        version = dict(zip(attributes[::2], attributes[1::2], strict=True)).get("version", "").strip()
        if version and version not in _VERSIONS:
            # 'Plain' numbers promise another format; anything else is a recorder's slip.
            weight: Literal["warn", "note"] = "warn" if version.replace(".", "").isdigit() else "note"
            says = f"The GPX version {one_line(version, 20)!r} isn't known; the file was read as 1.1."
            self.problems.append(Problem(self.line_number, says, weight))
        self._stack.append(self._node)
        self._node = self._tree()

    def _tree(self) -> _Node:
        """Return the elements of GPX 1.0 and 1.1 that Lacet reads, under this document's namespace."""
        point = {"ele": _Node(takes=self._take_height), "time": _Node(takes=self._take_time)}
        segment = {"trkpt": self._named(point, starts=self._start_point)}
        words = {word: _Node(takes=self._line_word(word)) for word in ("name", "desc", "cmt")}
        track = {**words, "trkseg": self._named(segment, starts=self._start_segment)}
        route = {**words, "rtept": self._named(point, starts=self._start_point)}
        waypoint_words = ("name", "desc", "cmt", "sym", "type")
        waypoint = {"ele": _Node(takes=self._take_waypoint_height)} | {
            word: _Node(takes=self._waypoint_word(word)) for word in waypoint_words
        }
        document = {
            "wpt": self._named(waypoint, starts=self._start_waypoint),
            "rte": self._named(route, starts=self._start_route),
            "trk": self._named(track, starts=self._start_track),
        }
        return self._named(document)

    def _named(self, children: dict[str, _Node], starts: Callable[[list[str]], None] | None = None) -> _Node:
        return _Node({self._prefix + child: node for child, node in children.items()}, starts)

    def _start_track(self, _attributes: list[str]) -> None:
        self._begin_line("track")

    def _start_route(self, _attributes: list[str]) -> None:
        self._begin_line("route")

    def _begin_line(self, kind: LineKind) -> None:
        if len(self.lines) >= MOST_LINES:
            raise self._refused(f"more than {MOST_LINES} tracks and routes")
        if self.lines:
            self.lines[-1].points.flush()
        self.lines.append(RawLine(kind, self.line_number))

    def _start_segment(self, _attributes: list[str]) -> None:
        line = self.lines[-1]
        line.is_hollow = False
        line.points.begin_segment()

    def _start_point(self, attributes: list[str]) -> None:
        self._add_point(self.lines[-1].points, attributes)

    def _start_waypoint(self, attributes: list[str]) -> None:
        if len(self.waypoint_texts) >= MOST_WAYPOINTS:
            raise self._refused(f"more than {MOST_WAYPOINTS} waypoints")
        self._add_point(self.waypoints, attributes)
        self.waypoint_texts.append({})

    def _add_point(self, points: Points, attributes: list[str]) -> None:
        if len(attributes) == 4 and attributes[0] == "lat" and attributes[2] == "lon":
            latitude, longitude = attributes[1], attributes[3]
        elif len(attributes) > 2 * MOST_ATTRIBUTES:
            raise self._refused(f"a tag with more than {MOST_ATTRIBUTES} attributes")
        else:
            named = dict(zip(attributes[::2], attributes[1::2], strict=True))
            latitude, longitude = named.get("lat", ""), named.get("lon", "")
        points.latitudes.append(latitude)
        points.longitudes.append(longitude)
        points.heights.append("")
        points.times.append("")
        points.line_numbers.append(self._expat.CurrentLineNumber)

    def _take_height(self, text: str) -> None:
        self.lines[-1].points.heights[-1] = text

    def _take_time(self, text: str) -> None:
        self.lines[-1].points.times[-1] = text

    def _take_waypoint_height(self, text: str) -> None:
        self.waypoints.heights[-1] = text

    def _line_word(self, word: str) -> Callable[[str], None]:
        def take(text: str) -> None:
            line = self.lines[-1]
            line.is_hollow = False
            self._keep_word(line.texts, word, text)

        return take

    def _waypoint_word(self, word: str) -> Callable[[str], None]:
        return lambda text: self._keep_word(self.waypoint_texts[-1], word, text)

    def _keep_word(self, texts: dict[str, str], word: str, text: str) -> None:
        if self._text_length > LONGEST_TEXT:
            says = f"A text of {self._text_length} characters (<{word}>) was shortened."
            self.problems.append(Problem(self.line_number, says))
        texts.setdefault(word, text)

    def _refuse_document_type(self, *_: object) -> None:
        raise self._refused("the file declares a document type or entities (DOCTYPE), which is never read")

    def _count_namespace(self, *_: object) -> None:
        self._namespaces += 1
        if self._namespaces > MOST_NAMESPACES:
            raise self._refused(f"more than {MOST_NAMESPACES} namespaces are declared")

    def _note(self, says: str) -> None:
        if not any(problem.says == says for problem in self.problems):
            self.problems.append(Problem(self.line_number, says, "note"))

    def _refused(self, reason: str) -> GpxRefused:
        return GpxRefused(self.name, to_say("{reason}.", reason=reason), self.line_number)

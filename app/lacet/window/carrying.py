"""What a drag carries between views: ids as JSON, under a type of our own."""

from PySide6.QtCore import QMimeData

from lacet.trip.drop import (
    CardPayload,
    DayPayload,
    ItemPayload,
    Payload,
    PayloadRefused,
    StagePayload,
    from_json,
)

MIME = "application/x-lacet-payload+json"


def payload_of(data: QMimeData) -> Payload | None:
    """What a drag carries, or None when it isn't ours."""
    if not data.hasFormat(MIME):
        return None
    try:
        return from_json(bytes(data.data(MIME).data()))
    except PayloadRefused:
        return None


def is_ours(payload: Payload | None) -> bool:
    return isinstance(payload, StagePayload | CardPayload | ItemPayload | DayPayload)

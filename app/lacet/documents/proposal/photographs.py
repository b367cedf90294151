"""Kept pictures as a proposal shows them."""

import base64
from collections.abc import Callable
from typing import Protocol

from lacet.documents.material.values import Shown


class Kept(Protocol):
    """A picture as a store keeps it."""

    @property
    def payload(self) -> bytes: ...
    @property
    def media_type(self) -> str: ...
    @property
    def alt(self) -> str: ...
    @property
    def credit(self) -> str: ...


def shown_from(find: Callable[[str], Kept | None]) -> Callable[[str], Shown | None]:
    """Return what `prepare` takes as `pictures`, from what finds a kept picture by its id.

    A picture nobody described is left out: those who can't see it would be told nothing of it.
    """

    def shown(picture_id: str) -> Shown | None:
        kept = find(picture_id)
        if kept is None or not kept.alt.strip():
            return None
        payload = base64.b64encode(kept.payload).decode()
        return Shown(payload=payload, media_type=kept.media_type, alt=kept.alt, credit=kept.credit)

    return shown

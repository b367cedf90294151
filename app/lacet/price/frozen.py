"""An issued quote, kept as it was: plain data that JSON can hold, with the digest of what it was made from.

A frozen quote is never reckoned again. Whether it still holds is told by comparing digests, and what has
changed by comparing it with a new quote.
"""

from dataclasses import dataclass
from typing import Any

from lacet.price.values import Quote
from lacet.trip.errors import LacetError
from lacet.trip.plain import from_plain, to_plain

FORMAT = 1


class FrozenQuoteUnread(LacetError):
    """A stored quote of a form this version doesn't know."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FrozenQuote:
    """A quote as it was issued and the digest of its inputs."""

    quote: Quote
    inputs_digest: str

    def still_holds(self, inputs_digest: str) -> bool:
        """Whether today's inputs are those it was made from."""
        return self.inputs_digest == inputs_digest


def freeze(quote: Quote, inputs_digest: str) -> dict[str, Any]:
    """A quote as plain data."""
    return {"format": FORMAT, "inputs": inputs_digest, "quote": to_plain(quote)}


def thaw(data: object) -> FrozenQuote:
    """The quote that was frozen, equal to what it was.

    Raises
    ------
    FrozenQuoteUnread
        When the data isn't a frozen quote of this form.
    NotPlain
        When a part of it is missing, unknown or of the wrong type; the sentence names the place.
    """
    if not isinstance(data, dict) or data.get("format") != FORMAT or not isinstance(data.get("inputs"), str):
        raise FrozenQuoteUnread(
            "The stored quote can't be read by this version of Lacet; open it with the version that made it."
        )
    return FrozenQuote(quote=from_plain(Quote, data.get("quote")), inputs_digest=data["inputs"])

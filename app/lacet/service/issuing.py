"""What is kept of a quote as it was sent, for the command line and the window alike.

It stands here because documents and the price don't know the store, nor the store them.
"""

from datetime import datetime

import orjson

from lacet.digest import digest
from lacet.inputs import Inputs
from lacet.price.amounts import amount_text
from lacet.price.frozen import freeze
from lacet.price.plain_quote import plain_price
from lacet.price.values import Quote
from lacet.store import UnitOfWork
from lacet.trip.errors import LacetError

QUOTE = "quote"


class NothingToIssue(LacetError):
    """A quote that nobody could keep to."""


def issue_quote(
    unit: UnitOfWork,
    inputs: Inputs,
    revision: int,
    quote: Quote,
    *,
    issued_at: datetime,
) -> int:
    """Keep a quote with all it was made from, and return the number of its document; the unit commits.

    Raises
    ------
    NothingToIssue
        When nothing in it has a price.
    """
    if quote.nothing_known:
        raise NothingToIssue(
            f"'{inputs.variant.name}' can't be quoted: nothing in it has a price. "
            "Enter tariffs that hold on its dates."
        )
    stamp = digest(inputs)
    figures = {"as_of": inputs.as_of.isoformat(), "price": plain_price(quote), "net": amount_text(quote.net)}
    return unit.documents.freeze(
        QUOTE,
        inputs.trip.id,
        inputs.variant_id,
        revision,
        orjson.dumps(freeze(quote, stamp, trip=inputs.trip, variant=inputs.variant_id, rules=inputs.rules)),
        issued_at=issued_at,
        digest=stamp,
        media_type="application/json",
        figures=orjson.dumps(figures).decode(),
    )

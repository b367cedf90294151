"""What is kept of a quote as it was sent, for the command line and the window alike.

It stands here because documents and the price don't know the store, nor the store them.
"""

from datetime import datetime

import orjson

from lacet.digest import digest
from lacet.price.amounts import amount_text
from lacet.price.frozen import freeze
from lacet.price.plain_quote import plain_price
from lacet.price.values import Quote
from lacet.store import UnitOfWork
from lacet.trip.catalogue import Catalogue
from lacet.trip.commitments import Commitments
from lacet.trip.errors import LacetError
from lacet.trip.house_rules import HouseRules
from lacet.trip.trip import Trip, Variant

QUOTE = "quote"


class NothingToIssue(LacetError):
    """A quote that nobody could keep to."""


def issue_quote(
    unit: UnitOfWork,
    trip: Trip,
    variant: Variant,
    revision: int,
    quote: Quote,
    *,
    catalogue: Catalogue,
    rules: HouseRules,
    commitments: Commitments,
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
            f"'{variant.name}' can't be quoted: nothing in it has a price. "
            "Enter tariffs that hold on its dates."
        )
    inputs = digest(trip, variant, catalogue, rules, commitments)
    figures = {"price": plain_price(quote), "net": amount_text(quote.net)}
    return unit.documents.freeze(
        QUOTE,
        trip.id,
        variant.id,
        revision,
        orjson.dumps(freeze(quote, inputs, trip=trip, variant=variant.id, rules=rules)),
        issued_at=issued_at,
        digest=inputs,
        media_type="application/json",
        figures=orjson.dumps(figures).decode(),
    )

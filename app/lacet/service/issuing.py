"""What is kept of a quote as it was sent, for the command line and the window alike.

It stands here because documents and the price don't know the store, nor the store them.
"""

from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

import orjson

from lacet.assess import assess
from lacet.digest import digest
from lacet.documents.workbook.making import quote_workbook
from lacet.inputs import Inputs
from lacet.price.amounts import amount_text
from lacet.price.frozen import freeze, thaw
from lacet.price.plain_quote import plain_price
from lacet.service.gathering import Assessed
from lacet.service.opening import NotFound
from lacet.service.writing import save_remembered
from lacet.store import Project, UnitOfWork
from lacet.trip import edits
from lacet.trip.errors import LacetError

QUOTE, WORKBOOK = "quote", "workbook"


class NothingToIssue(LacetError):
    """A quote that nobody could keep to."""


def issued_quote(project: Project, now: Assessed, number: int) -> Assessed:
    """A quote as it was issued, with the trip and the house rules of that day.

    Parameters
    ----------
    now
        The variant as it is today.

    Raises
    ------
    NotFound
        When no quote of the variant was issued under that number.
    """
    with project.reading() as unit:
        rows = {row.number: row for row in unit.documents.rows(now.trip.id) if row.kind == QUOTE}
        row = rows.get(number)
        if row is None or row.variant_id != now.variant.id:
            raise NotFound(
                "No quote of '{variant}' was issued as document {number}.",
                variant=now.variant.name,
                number=number,
            )
        frozen = thaw(orjson.loads(unit.documents.payload(row.number)))
    # A quote issued before trips were kept with it names a variant of the trip as it is now.
    inputs = Inputs(
        frozen.trip or now.trip, now.variant.id, now.catalogue, frozen.rules or now.rules,
        bookings=now.inputs.bookings if frozen.bookings is None else frozen.bookings,
        as_of=frozen.quote.as_of,
    )  # fmt: skip
    return Assessed(inputs=inputs, revision=row.revision, found=replace(assess(inputs), quote=frozen.quote))


def save_quote(project: Project, it: Assessed, path: Path, *, for_client: bool, over: bool = False) -> None:
    """Write a quote and its trip as a workbook; `over` as in `write_file`.

    Raises
    ------
    NotWritten, StoreError
    """
    content = quote_workbook(it.inputs, it.found, for_client=for_client)
    save_remembered(project, WORKBOOK, it.trip.id, path, content, over=over)


def issue_quote(project: Project, it: Assessed) -> int:
    """Keep a quote with all it was made from, and return the number of its document.

    Raises
    ------
    NothingToIssue
        When nothing in it has a price.
    """
    with project.unit_of_work() as unit:
        number = _issue(unit, it)
        unit.commit()
    return number


def accept_quote(project: Project, it: Assessed, number: int | None, on: date) -> int:
    """Note the client's yes to a quote at its price, on the trip as it is now; return its document's number.

    Parameters
    ----------
    number
        The document under which it was issued; None = it is issued now: both are kept, or neither.

    Raises
    ------
    NothingToIssue
    """
    with project.unit_of_work() as unit:
        issued = number or _issue(unit, it)
        trip, revision = unit.trips.load(it.trip.id)
        sold = it.found.quote.total
        said_yes = edits.accept(trip, it.variant.id, revision=it.revision, price=sold, on=on)
        unit.trips.save(said_yes, revision, f"accepted {it.variant.name}")
        unit.commit()
    return issued


def _issue(unit: UnitOfWork, it: Assessed) -> int:
    inputs, quote = it.inputs, it.found.quote
    if quote.nothing_known:
        raise NothingToIssue(
            "'{variant}' can't be quoted: nothing in it has a price. Enter tariffs that hold on its dates.",
            variant=inputs.variant.name,
        )
    stamp = digest(inputs)
    frozen = freeze(
        quote,
        stamp,
        trip=inputs.trip,
        variant=inputs.variant_id,
        rules=inputs.rules,
        bookings=inputs.bookings,
    )
    figures = {"as_of": inputs.as_of.isoformat(), "price": plain_price(quote), "net": amount_text(quote.net)}
    return unit.documents.freeze(
        QUOTE,
        inputs.trip.id,
        inputs.variant_id,
        it.revision,
        orjson.dumps(frozen),
        issued_at=datetime.now(UTC),
        digest=stamp,
        media_type="application/json",
        figures=orjson.dumps(figures).decode(),
    )

"""`lacet quote`: what a variant costs, by kind and by day; as a workbook; issued and kept."""

import argparse
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime

import orjson

from lacet.assess import Assessment, assess
from lacet.cli.choosing import NotFound, chosen, project_at
from lacet.cli.quote_tables import tell_quote
from lacet.cli.telling import print_json, say
from lacet.cli.writing import need_ending, write_new
from lacet.digest import digest
from lacet.documents.workbook.making import quote_workbook
from lacet.inputs import Inputs
from lacet.price.amounts import amount_text
from lacet.price.frozen import thaw
from lacet.price.margin_vat import MarginVat, margin_vat
from lacet.price.plain_quote import plain_price, plain_quote
from lacet.price.values import Quote
from lacet.service.issuing import QUOTE, issue_quote
from lacet.store import Project, UnitOfWork
from lacet.store.documents import DocumentRow
from lacet.trip import edits
from lacet.trip.edits import letter
from lacet.trip.trip import Trip, Variant
from lacet.wording import ENGLISH

KIND = QUOTE


@dataclass(frozen=True, slots=True, kw_only=True)
class _Priced:
    """One variant with all its price rests on."""

    inputs: Inputs
    revision: int
    found: Assessment

    @property
    def trip(self) -> Trip:
        return self.inputs.trip

    @property
    def variant(self) -> Variant:
        return self.inputs.variant

    @property
    def quote(self) -> Quote:
        return self.found.quote

    @property
    def vat(self) -> MarginVat | None:
        return margin_vat(self.quote, self.inputs.rules)


def quote(arguments: argparse.Namespace) -> None:
    """Tell what a variant costs; write it, issue it, note that the client said yes, where asked to."""
    if arguments.out is not None:
        need_ending(arguments.out, ".xlsx")
    with project_at(arguments.project) as project:
        priced = _issued(project, arguments) if arguments.document else _priced(project, arguments)
        if arguments.out is not None:
            write_new(arguments.out, _workbook(priced, for_client=arguments.client))
            project.remember_written("workbook", priced.trip.id, [arguments.out])
        number: int | None = arguments.document
        if arguments.issue or arguments.accepted:
            number = _keep(project, priced, arguments)
        with project.reading() as unit:
            rows = [row for row in unit.documents.rows(priced.trip.id) if row.kind == KIND]
    mine = [row for row in rows if row.variant_id == priced.variant.id and not arguments.document]
    if arguments.json:
        print_json(_plain(priced, mine, number, for_client=arguments.client))
        return
    title = f"{priced.trip.name} · {letter(priced.trip, priced.variant.id)} {priced.variant.name}"
    tell_quote(title, priced.trip, priced.quote, priced.vat, for_client=arguments.client)
    if arguments.document:
        say(f"This is document {arguments.document}, as it was issued.")
        return
    for row in mine:
        say(_issue_said(row, priced.quote))


def _workbook(priced: _Priced, *, for_client: bool) -> bytes:
    inputs = priced.inputs
    return quote_workbook(
        inputs.trip, inputs.variant, priced.found, inputs.catalogue, inputs.rules, for_client=for_client
    )


def _priced(project: Project, arguments: argparse.Namespace) -> _Priced:
    as_of = arguments.as_of or date.today()
    trip, variant, revision = chosen(project, arguments.trip, arguments.variant)
    with project.reading() as unit:
        commitments = unit.commitments(trip.id, as_of)
    inputs = Inputs(trip, variant.id, project.catalogue(), project.house_rules(), commitments, as_of=as_of)
    return _Priced(inputs=inputs, revision=revision, found=assess(inputs))


def _issued(project: Project, arguments: argparse.Namespace) -> _Priced:
    """A quote as it was issued, with the trip and the house rules of that day."""
    trip, variant, _ = chosen(project, arguments.trip, arguments.variant)
    with project.reading() as unit:
        rows = {row.number: row for row in unit.documents.rows(trip.id) if row.kind == KIND}
        row = rows.get(arguments.document)
        if row is None or row.variant_id != variant.id:
            raise NotFound(f"No quote of '{variant.name}' was issued as document {arguments.document}.")
        frozen = thaw(orjson.loads(unit.documents.payload(row.number)))
    # A quote issued before trips were kept with it names a variant of the trip as it is now.
    then = frozen.trip or trip
    rules = frozen.rules or project.house_rules()
    inputs = Inputs(then, variant.id, project.catalogue(), rules, as_of=frozen.quote.as_of)
    found = replace(assess(inputs), quote=frozen.quote)
    return _Priced(inputs=inputs, revision=row.revision, found=found)


def _keep(project: Project, priced: _Priced, arguments: argparse.Namespace) -> int:
    """Issue the quote unless it is an issued one, and note the client's yes; both or neither."""
    try:
        with project.unit_of_work() as unit:
            number: int = arguments.document or _issue(unit, priced)
            if arguments.accepted:
                _accept(unit, priced, arguments.as_of or date.today())
            unit.commit()
    except BaseException:
        if arguments.out is not None:
            arguments.out.unlink(missing_ok=True)
        raise
    return number


def _issue(unit: UnitOfWork, priced: _Priced) -> int:
    return issue_quote(unit, priced.inputs, priced.revision, priced.quote, issued_at=datetime.now(UTC))


def _accept(unit: UnitOfWork, priced: _Priced, on: date) -> None:
    """Note the client's yes to the quote at its price, on the trip as it is now."""
    trip, revision = unit.trips.load(priced.trip.id)
    sold = priced.quote.total
    said_yes = edits.accept(trip, priced.variant.id, revision=priced.revision, price=sold, on=on)
    unit.trips.save(said_yes, revision, f"accepted {priced.variant.name}")


def _plain(
    priced: _Priced, rows: list[DocumentRow], issued: int | None, *, for_client: bool
) -> dict[str, object]:
    told = plain_quote(priced.quote, priced.trip.party, for_client=for_client, vat=priced.vat)
    documents = [
        {
            "document": row.number,
            "issued_at": row.issued_at.isoformat(),
            "price": orjson.loads(row.figures)["price"],
            "inputs_unchanged": _unchanged(priced.inputs, row),
        }
        for row in rows
    ]
    names = {"trip": priced.trip.name, "variant": priced.variant.name}
    return names | told | {"issued": documents, "document": issued}


def _unchanged(inputs: Inputs, row: DocumentRow) -> bool:
    """Whether everything a quote was made from is as it was, the day it was told for aside."""
    as_of = orjson.loads(row.figures).get("as_of")
    # Documents of earlier versions don't say the day, and their digest rests on less.
    return as_of is not None and row.digest == digest(replace(inputs, as_of=date.fromisoformat(as_of)))


def _issue_said(row: DocumentRow, now: Quote) -> str:
    """'Issued on 25 Nov 2026 as document 3 at 4348.00 EUR; today the same.'"""
    price = orjson.loads(row.figures)["price"]
    holds = price == plain_price(now)
    today = "today the same" if holds else f"today {amount_text(now.total)} {now.currency}"
    on = ENGLISH.day(row.issued_at.date(), "d MMM yyyy")
    return f"Issued on {on} as document {row.number} at {price['party']} {price['currency']}; {today}."

"""`lacet quote`: what a variant costs, by kind and by day; as a workbook; issued and kept."""

import argparse
from dataclasses import replace
from datetime import date

import orjson

from lacet.cli.quote_tables import tell_quote
from lacet.cli.telling import print_json, say
from lacet.digest import digest
from lacet.inputs import Inputs
from lacet.price.amounts import amount_text
from lacet.price.margin_vat import margin_vat
from lacet.price.plain_quote import plain_price, plain_quote
from lacet.price.values import Quote
from lacet.service.documents import QUOTE as DOCUMENT
from lacet.service.documents import Order, Whom
from lacet.service.gathering import Assessed, assessed
from lacet.service.issuing import QUOTE, accept_quote, issue_quote, issued_quote
from lacet.service.opening import project_at
from lacet.service.writing import need_ending, taken_back_on_failure
from lacet.store import DocumentRow, Project
from lacet.trip.edits import letter
from lacet.wording import ENGLISH


def quote(arguments: argparse.Namespace) -> None:
    """Tell what a variant costs; write it, issue it, note that the client said yes, where asked to."""
    if arguments.out is not None:
        need_ending(arguments.out, *DOCUMENT.endings)
    with project_at(arguments.project) as project:
        as_of = arguments.as_of or date.today()
        priced = assessed(project, arguments.trip, arguments.variant, as_of)
        if arguments.document:
            priced = issued_quote(project, priced, arguments.document)
        if arguments.out is not None:
            whom = Whom.CLIENT if arguments.client else Whom.OFFICE
            DOCUMENT.hand_over(project, Order(it=priced, whom=whom), arguments.out)
        number = _keep(project, priced, arguments)
        with project.reading() as unit:
            rows = [row for row in unit.documents.rows(priced.trip.id) if row.kind == QUOTE]
    mine = [row for row in rows if row.variant_id == priced.variant.id and not arguments.document]
    if arguments.json:
        print_json(_plain(priced, mine, number, for_client=arguments.client))
        return
    vat = margin_vat(priced.found.quote, priced.rules)
    title = f"{priced.trip.name} · {letter(priced.trip, priced.variant.id)} {priced.variant.name}"
    tell_quote(title, priced.trip, priced.found.quote, vat, for_client=arguments.client)
    if arguments.document:
        say(f"This is document {arguments.document}, as it was issued.")
        return
    for row in mine:
        say(_issue_said(row, priced.found.quote))


def _keep(project: Project, priced: Assessed, arguments: argparse.Namespace) -> int | None:
    """Issue the quote unless it is an issued one, note the client's yes; failing that, no file stays."""
    issued: int | None = arguments.document
    with taken_back_on_failure([] if arguments.out is None else [arguments.out]):
        if arguments.accepted:
            return accept_quote(project, priced, issued, arguments.as_of or date.today())
        if arguments.issue and issued is None:
            return issue_quote(project, priced)
    return issued


def _plain(
    priced: Assessed, rows: list[DocumentRow], issued: int | None, *, for_client: bool
) -> dict[str, object]:
    vat = margin_vat(priced.found.quote, priced.rules)
    told = plain_quote(priced.found.quote, priced.trip.party, for_client=for_client, vat=vat)
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

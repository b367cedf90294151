"""Whole workbooks, as the command line and the window write them."""

from lacet.assess import Assessment
from lacet.documents.workbook.book import Book
from lacet.documents.workbook.client import write_client_quote
from lacet.documents.workbook.office import write_office_quote
from lacet.documents.workbook.office_told import OfficeTold
from lacet.documents.workbook.trip_page import write_trip
from lacet.inputs import Inputs
from lacet.price.offering import selling_prices


def quote_workbook(inputs: Inputs, found: Assessment, *, for_client: bool = False) -> bytes:
    """The quote and the trip as a workbook (.xlsx).

    Parameters
    ----------
    inputs
        What `found` became of.
    for_client
        Selling prices alone, without any trace of net prices and margin; else the office's copy, whose
        formulas reckon the quote anew from its lines and terms.
    """
    trip, variant, catalogue = inputs.trip, inputs.variant, inputs.catalogue
    prices = selling_prices(found.quote)
    told = OfficeTold(trip=trip, variant=variant, prices=prices, quote=found.quote, catalogue=catalogue)
    book = Book(title=told.title, creator=catalogue.office.name or "Lacet")
    if for_client:
        write_client_quote(book, told)
    else:
        write_office_quote(book, told, inputs.rules)
    write_trip(book.page("Trip"), inputs, found)
    return book.to_bytes()

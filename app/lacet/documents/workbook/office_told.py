"""What the office's copy is about: selling prices as everywhere, and the quote with its net prices."""

from dataclasses import dataclass

from lacet.documents.workbook.telling import Told
from lacet.price.values import Quote


@dataclass(frozen=True, slots=True, kw_only=True)
class OfficeTold(Told):
    """One variant and its quote, which may be an issued one of an earlier day."""

    quote: Quote

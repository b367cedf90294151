"""VAT on the margin: the special scheme for travel agents. An aid for planning, not tax advice.

Who sells bought-in travel services in the own name owes VAT on the margin alone: the difference between
what the traveller pays and what suppliers charge, both with VAT. The VAT is contained in the margin. A
negative margin bears none. Own services (here the rep's time and fixed costs of the office) fall outside
the scheme and are taxed in full; the price is then parted by direct cost.

References
----------
Directive 2006/112/EC, Articles 306-310. German Umsatzsteuer-Anwendungserlass (UStAE), section 25.3:
paragraph 1, example 1 (margin of one service), and paragraph 4 in the old version (mixed with own
services). Holds for journeys within the territory where the rate applies.
"""

from dataclasses import dataclass
from fractions import Fraction

from lacet.price.amounts import from_minor, round_fraction, to_minor
from lacet.price.selling import share
from lacet.price.shares import net_minor
from lacet.price.values import Quote
from lacet.trip.house_rules import HouseRules
from lacet.trip.money import Money
from lacet.trip.words import Service

OWN_SERVICES = (Service.REP, Service.FIXED_TRIP, Service.FIXED_PERSON)
CAUTION = "An aid for planning, not tax advice."


@dataclass(frozen=True, slots=True, kw_only=True)
class MarginVat:
    """VAT of one quote. `margin` holds its VAT; `own_price` is the part of the price for own services.

    `is_from` says that something in the quote is unknown, so that these figures are not final.
    """

    bought_in: Money
    margin: Money
    vat_on_margin: Money
    own_price: Money
    vat_on_own: Money
    is_from: bool
    caution: str = CAUTION


def margin_of(price: Fraction, bought_in: Fraction) -> Fraction:
    """The margin, VAT contained: what the traveller pays less what was bought in."""
    return price - bought_in


def vat_contained(gross: Fraction, vat_share: Fraction) -> Fraction:
    """VAT contained in an amount: gross x r / (1 + r), so 19/119 or 1/6; none in a negative one."""
    return max(Fraction(0), gross) * vat_share / (1 + vat_share)


def own_share(own_cost: Fraction, bought_in: Fraction) -> Fraction:
    """Own services as a share of all direct costs (UStAE 25.3, paragraph 4, old version)."""
    whole = own_cost + bought_in
    return own_cost / whole if whole else Fraction(0)


def mixed_margin(price: Fraction, own_cost: Fraction, bought_in: Fraction) -> Fraction:
    """The margin on what was bought in, when the price also holds own services."""
    return margin_of(price * (1 - own_share(own_cost, bought_in)), bought_in)


def margin_vat(quote: Quote, rules: HouseRules) -> MarginVat | None:
    """VAT of a quote under the scheme, or None where the house doesn't use it.

    The margin is taken from the price the traveller pays: an agent's commission doesn't lessen it.
    """
    if not rules.margin_scheme:
        return None
    own = Fraction(net_minor(line for line in quote.included if line.service in OWN_SERVICES))
    bought = Fraction(net_minor(line for line in quote.included if line.service not in OWN_SERVICES))
    price, rate = Fraction(to_minor(quote.total)), share(rules.vat_share)
    own_price = price * own_share(own, bought)
    margin = mixed_margin(price, own, bought)

    def money(exact: Fraction) -> Money:
        return from_minor(round_fraction(exact, rules.half_even), quote.currency)

    return MarginVat(
        bought_in=money(bought),
        margin=money(margin),
        vat_on_margin=money(vat_contained(margin, rate)),
        own_price=money(own_price),
        vat_on_own=money(vat_contained(own_price, rate)),
        is_from=quote.is_from,
    )

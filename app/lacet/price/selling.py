"""From net to selling price. Mark-up is a share of the net price, margin a share of the selling price.

The two are never confused because each has a function of its own: 25 % mark-up is 20 % margin, and in
general margin = mark-up / (1 + mark-up). All exact fractions: rounding happens once, at the end.
"""

from dataclasses import dataclass
from fractions import Fraction

from lacet.price.amounts import raise_to, round_ratio
from lacet.trip.house_rules import HouseRules
from lacet.trip.trip import Pricing


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """How prices are made: mark-up or margin (the other is None), commission, all shares; rounding.

    `factor` is what they come to: the selling price of a net price of one.
    """

    markup_share: Fraction | None
    margin_share: Fraction | None
    commission_share: Fraction
    step_minor: int
    half_even: bool
    factor: Fraction

    def exact(self, net: Fraction) -> Fraction:
        """The unrounded selling price of a net price."""
        return net * self.factor

    def price(self, net: Fraction) -> int:
        """The selling price in minor units: rounded to one, then raised to a multiple of the step."""
        return self.price_of(net.numerator, net.denominator)

    def price_of(self, net_minor: int, heads: int) -> int:
        """The selling price a head of a net price for so many."""
        above, below = net_minor * self.factor.numerator, heads * self.factor.denominator
        return raise_to(round_ratio(above, below, self.half_even), self.step_minor)


def terms_of(pricing: Pricing, rules: HouseRules) -> Terms:
    """What the variant says, else what the house says; of both, a margin replaces a mark-up."""
    own = pricing.markup_share is not None or pricing.margin_share is not None
    margin = pricing.margin_share if own else rules.margin_share
    markup = pricing.markup_share if own else rules.markup_share
    commission = rules.commission_share if pricing.commission_share is None else pricing.commission_share
    return Terms(
        markup_share=None if margin is not None or markup is None else share(markup),
        margin_share=None if margin is None else share(margin),
        commission_share=share(commission),
        factor=factor_of(markup, margin, commission),
        step_minor=rules.round_price_to_minor,
        half_even=rules.half_even,
    )


def factor_of(markup_share: float | None, margin_share: float | None, commission_share: float) -> Fraction:
    """The selling price of a net price of one, unrounded; of both, a margin replaces a mark-up."""
    if margin_share is not None:
        price = price_with_margin(Fraction(1), share(margin_share))
    else:
        price = price_with_markup(Fraction(1), share(markup_share or 0.0))
    return price_holding_commission(price, share(commission_share))


def share(written: float) -> Fraction:
    """A share as it was written: 0.1 is a tenth, not the binary number next to it."""
    return Fraction(repr(written))


def price_with_markup(net: Fraction, markup_share: Fraction) -> Fraction:
    """Selling price when the mark-up is a share of the net price: net x (1 + mark-up)."""
    return net * (1 + markup_share)


def price_with_margin(net: Fraction, margin_share: Fraction) -> Fraction:
    """Selling price when the margin is a share of the selling price: net / (1 - margin)."""
    return net / (1 - margin_share)


def price_holding_commission(price: Fraction, commission_share: Fraction) -> Fraction:
    """The price of which the agent keeps a share and `price` is left: price / (1 - commission)."""
    return price / (1 - commission_share)


def margin_of_markup(markup_share: Fraction) -> Fraction:
    """The margin that a mark-up comes to: mark-up / (1 + mark-up)."""
    return markup_share / (1 + markup_share)


def markup_of_margin(margin_share: Fraction) -> Fraction:
    """The mark-up that a margin comes to: margin / (1 - margin)."""
    return margin_share / (1 - margin_share)

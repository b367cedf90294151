"""Minor units: rounding, raising and splitting, in whole cents or whatever a currency's smallest unit is."""

from collections.abc import Sequence
from decimal import ROUND_HALF_EVEN, ROUND_HALF_UP, Decimal
from fractions import Fraction
from functools import lru_cache

from babel.numbers import get_currency_precision

from lacet.trip.money import Money

# ISO 4217 and CLDR, on which babel rests, part company where a country no longer mints its minor unit:
# CLDR tells what people write, the standard what accounts are kept in. Accounts are meant here.
_ISO_4217_DIGITS: dict[str, int] = dict.fromkeys(
    ("AFN", "ALL", "IRR", "KPW", "LAK", "LBP", "MGA", "MMK", "RSD", "SOS", "SYP", "YER"), 2
) | {"IQD": 3}


@lru_cache(maxsize=256)
def minor_digits(currency: str) -> int:
    """Decimals of a currency's minor unit.

    References
    ----------
    ISO 4217:2015, list one (the `CcyMnrUnts` column); codes not on it have two.
    """
    known = _ISO_4217_DIGITS.get(currency)
    return get_currency_precision(currency) if known is None else known


@lru_cache(maxsize=256)
def _quantum(currency: str) -> Decimal:
    return Decimal(1).scaleb(-minor_digits(currency))


def rounded(money: Money, half_even: bool = False) -> Money:
    """Money in whole minor units; halves go up (away from zero) or to the even unit.

    References
    ----------
    Half up: Council Regulation (EC) No 1103/97, Article 5. Half even: IEEE 754-2019, roundTiesToEven.
    """
    way = ROUND_HALF_EVEN if half_even else ROUND_HALF_UP
    return Money(money.amount.quantize(_quantum(money.currency), way), money.currency)


def amount_text(money: Money) -> str:
    """The amount as text, with the decimals of its currency or, where it has finer parts, all of them."""
    whole = money.amount.quantize(_quantum(money.currency))
    return str(whole if whole == money.amount else money.amount.normalize())


def to_minor(money: Money) -> int:
    """Money already rounded, as a count of minor units."""
    return int(money.amount.scaleb(minor_digits(money.currency)))


def from_minor(count: int, currency: str) -> Money:
    """A count of minor units as money."""
    return Money(Decimal(count).scaleb(-minor_digits(currency)), currency)


def round_fraction(value: Fraction, half_even: bool = False) -> int:
    """The nearest whole number; halves away from zero, or to the even one."""
    return round_ratio(value.numerator, value.denominator, half_even)


def round_ratio(numerator: int, denominator: int, half_even: bool = False) -> int:
    """The same for numerator / denominator (above zero), without making a fraction of it first."""
    whole, rest = divmod(abs(numerator), denominator)
    up = 2 * rest > denominator or (2 * rest == denominator and (not half_even or whole % 2 == 1))
    return (whole + up) if numerator >= 0 else -(whole + up)


def raise_to(count: int, step: int) -> int:
    """The next multiple of a step, at or above the count."""
    return -(-count // step) * step if step > 1 else count


def split(total: int, weights: Sequence[int | Fraction]) -> tuple[int, ...]:
    """Split a count of minor units by weight so that nothing is lost.

    The units left over after rounding down go to the largest remainders, the first of equals first
    (largest remainder method, Hamilton 1792).

    Parameters
    ----------
    weights
        Not negative. All zero = equal parts.

    Raises
    ------
    ValueError
        When there is nobody to split among and something to split.
    """
    if not weights:
        if total:
            raise ValueError("nobody to split among")
        return ()
    whole = sum(weights)
    if not whole:
        weights, whole = [1] * len(weights), len(weights)
    exact = [Fraction(total) * weight / whole for weight in weights]
    parts = [value.__floor__() for value in exact]
    order = sorted(range(len(parts)), key=lambda index: parts[index] - exact[index])
    for index in order[: total - sum(parts)]:
        parts[index] += 1
    return tuple(parts)

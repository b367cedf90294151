"""How figures are said: rounded as people say them, in the language and units of the office.

The one place for it: findings, window, documents and command line all speak through here. English and
metric by default; Babel is imported only when a date, a sum of money or another language is asked for.
"""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Protocol, runtime_checkable

# ISO 4217: no currency is involved. Prices can't be reckoned in it.
NO_CURRENCY = "XXX"
UNKNOWN = "–"
# For the first picture of the window, since Babel takes a while to wake up; tests hold it to Babel.
SYMBOLS = {"EUR": "€", "GBP": "£"}
SHORT_DAYS = ("EEE d MMM", "d MMM")
WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sept", "Oct", "Nov", "Dec")
LONG_WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
LONG_MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
METRES_PER_MILE = 1609.344
METRES_PER_FOOT = 0.3048


@runtime_checkable
class Amount(Protocol):
    """An amount in a currency by its ISO 4217 code, such as `Money`."""

    @property
    def amount(self) -> Decimal: ...
    @property
    def currency(self) -> str: ...


@dataclass(frozen=True, slots=True)
class Wording:
    """A language (BCP 47, as Babel takes it) and metric or imperial units. Unknown values are a dash."""

    language: str = "en_GB"
    imperial: bool = False

    def length(self, length_m: float | None) -> str:
        """'13.6 km' or '8.5 mi'."""
        if length_m is None:
            return UNKNOWN
        value, unit = (length_m / METRES_PER_MILE, "mi") if self.imperial else (length_m / 1000, "km")
        return f"{self._decimal(value)} {unit}"

    def height(self, height_m: float | None) -> str:
        """'540 m' or '1770 ft', to ten from a hundred up."""
        if height_m is None:
            return UNKNOWN
        value, unit = (height_m / METRES_PER_FOOT, "ft") if self.imperial else (height_m, "m")
        rounded = round(value, -1) if abs(value) >= 100 else round(value)
        return f"{rounded:.0f} {unit}"

    def duration(self, seconds: float | None) -> str:
        """'45 min', '4 h 20': to five minutes from an hour up."""
        if seconds is None:
            return UNKNOWN
        if seconds < 3600:
            return f"{round(seconds / 60)} min"
        minutes = round(seconds / 300) * 5
        return f"{minutes // 60} h {minutes % 60:02d}"

    def clock(self, seconds: float | None) -> str:
        """Seconds after midnight as '14:05'; past midnight as '1:20 the next day'."""
        if seconds is None:
            return UNKNOWN
        minutes = round(seconds / 60)
        said = f"{minutes // 60 % 24}:{minutes % 60:02d}"
        return said if minutes < 24 * 60 else f"{said} the next day"

    def spot_height(self, height_m: float) -> str:
        """'342 m' or '1122 ft': a height one points at, to the metre or foot."""
        value, unit = (height_m / METRES_PER_FOOT, "ft") if self.imperial else (height_m, "m")
        return f"{value:.0f} {unit}"

    def away(self, distance_m: float) -> str:
        """A short way off: '340 m' or '1120 ft', and '1.4 km' or '0.9 mi' from a kilometre up."""
        return self.length(distance_m) if distance_m >= 1000 else self.height(round(distance_m, -1))

    def share(self, value: float | None) -> str:
        """'48 %'."""
        return UNKNOWN if value is None else f"{value * 100:.0f} %"

    def money(self, money: Amount | None, *, starting: bool = False) -> str:
        """'€1,482.00', or 'from €1,482.00'; from nothing is unknown."""
        if money is None or money.currency == NO_CURRENCY or (starting and not money.amount):
            return UNKNOWN
        symbol = SYMBOLS.get(money.currency)
        if self.language == "en_GB" and symbol is not None:
            said = f"{'-' if money.amount < 0 else ''}{symbol}{abs(money.amount):,.2f}"
        else:
            from babel.numbers import format_currency

            said = format_currency(money.amount, money.currency, locale=self.language)
        return f"from {said}" if starting else said

    def round_money(self, money: Amount | None, *, starting: bool = False) -> str:
        """'€1,482' where there are no cents, else as `money` says it."""
        return self.money(money, starting=starting).replace(f"{self._decimal_point}00", "")

    def day(self, on: date | None, pattern: str = "EEE d MMM") -> str:
        """'Sat 8 May', by a pattern of the Unicode locale data (UTS 35)."""
        if on is None:
            return ""
        if self.language == "en_GB" and pattern in SHORT_DAYS:
            weekday = f"{WEEKDAYS[on.weekday()]} " if pattern == "EEE d MMM" else ""
            return f"{weekday}{on.day} {MONTHS[on.month - 1]}"
        from babel.dates import format_date

        return format_date(on, pattern, locale=self.language)

    def _decimal(self, value: float) -> str:
        return f"{value:.1f}".replace(".", self._decimal_point)

    @property
    def _decimal_point(self) -> str:
        if self.language == ENGLISH.language:
            return "."
        from babel.numbers import get_decimal_symbol

        return str(get_decimal_symbol(self.language))


ENGLISH = Wording()

_SPOKEN: ContextVar[Wording] = ContextVar("spoken", default=ENGLISH)


def spoken() -> Wording:
    """How sentences that are made deep inside (findings, fixes) say their figures just now."""
    return _SPOKEN.get()


@contextmanager
def speaking(wording: Wording) -> Iterator[None]:
    """Let sentences made within this block say their figures so; the figures stay what they are."""
    token = _SPOKEN.set(wording)
    try:
        yield
    finally:
        _SPOKEN.reset(token)


def listed(names: Sequence[str]) -> str:
    """'Ann, Ben and Cleo'."""
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else list(names))


def rounded(value: float | None) -> float | None:
    """One decimal: below what any figure here is good for, and free of binary dust."""
    return None if value is None else round(value, 1)

"""Where a library is and how it reckons. What nobody has said is None or empty; nothing stands in for it."""

from dataclasses import dataclass

# What a battery has to bear while nobody has said how warm it gets: frost, the coldest that e-bikes are
# sensibly let out at (common practice, no source).
UNKIND_C = 0.0


@dataclass(frozen=True, slots=True)
class EmergencyNumber:
    """A number to ring, and what for where it isn't for everything ('mountain rescue')."""

    number: str
    what_for: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Region:
    """What holds for the whole library.

    `zone` is an IANA name or a POSIX TZ text; `holidays` lists own public holidays, a line each
    ("05-01 Labour Day", "easter+1 Easter Monday"), read by `days`; with none, `country` and
    `subdivision` (ISO 3166) name a list of the holidays library. `monthly_temperature_c` holds daytime means,
    January first, for places `temperature_height_m` above the sea; batteries have to bear them. `rasters`
    names elevation rasters that lie beside the project's file, without folders.
    """

    name: str = ""
    zone: str | None = None
    currency: str | None = None
    country: str | None = None
    subdivision: str = ""
    holidays: tuple[str, ...] = ()
    emergency_numbers: tuple[EmergencyNumber, ...] = ()
    monthly_temperature_c: tuple[float | None, ...] = ()
    temperature_height_m: float | None = None
    rasters: tuple[str, ...] = ()

    @property
    def holidays_set(self) -> bool:
        """Whether somebody has said which days are public holidays."""
        return bool(self.holidays) or self.country is not None

    def temperature_in(self, month: int | None) -> float | None:
        """The daytime mean of a month [°C], without one the coldest stated; None where nobody has said it."""
        if month is not None:
            return self.monthly_temperature_c[month - 1] if len(self.monthly_temperature_c) == 12 else None
        return min((each for each in self.monthly_temperature_c if each is not None), default=None)

    def unset(self) -> tuple[str, ...]:
        """What nobody has said yet, as people call it."""
        said = {
            "time zone": self.zone is not None,
            "currency": self.currency is not None,
            "public holidays": self.holidays_set,
            "emergency number": bool(self.emergency_numbers),
            "month temperatures": any(each is not None for each in self.monthly_temperature_c),
        }
        return tuple(what for what, known in said.items() if not known)


UNSET = Region()

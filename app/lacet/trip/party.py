"""Who travels. Everything here about a person is optional and personal; the store keeps it apart.

Allergens carry the names of Regulation (EU) No 1169/2011, Annex II; the other kinds are common
practice, no source.
"""

from dataclasses import dataclass

from lacet.language import marked
from lacet.trip.texts import ClientText, GuestKey, LibraryText
from lacet.trip.words import Exposure, Footing, NeedLevel, Way

ALLERGENS: tuple[str, ...] = (
    "cereals containing gluten",
    "crustaceans",
    "eggs",
    "fish",
    "peanuts",
    "soybeans",
    "milk",
    "nuts",
    "celery",
    "mustard",
    "sesame seeds",
    "sulphur dioxide and sulphites",
    "lupin",
    "molluscs",
)
# The record keeps the words of Annex II of Regulation (EU) 1169/2011; people are told the usual ones.
FREE_FROM: dict[str, str] = {
    "cereals containing gluten": marked("gluten-free"),
    "crustaceans": marked("no crustaceans"),
    "eggs": marked("no eggs"),
    "fish": marked("no fish"),
    "peanuts": marked("no peanuts"),
    "soybeans": marked("no soya"),
    "milk": marked("dairy-free"),
    "nuts": marked("no tree nuts"),
    "celery": marked("no celery"),
    "mustard": marked("no mustard"),
    "sesame seeds": marked("no sesame"),
    "sulphur dioxide and sulphites": marked("no sulphites"),
    "lupin": marked("no lupin"),
    "molluscs": marked("no molluscs"),
}
DIETS: tuple[str, ...] = ("vegetarian", "vegan", "halal", "kosher", "low salt")
ROOM_NEEDS: tuple[str, ...] = ("ground floor", "private bath", "no stairs")
NEED_KINDS: tuple[str, ...] = (*ALLERGENS, *DIETS, *ROOM_NEEDS, "other")


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """Something a guest must have or prefers. `seen_by` names the roles that may read it."""

    kind: LibraryText
    level: NeedLevel
    text: ClientText = ""
    seen_by: tuple[LibraryText, ...] = ("consultant", "rep", "supplier")


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """What one guest wishes at most in a day; None = the house rule holds."""

    walking_m: float | None = None
    cycling_m: float | None = None
    ascent_m: float | None = None
    moving_s: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Traveller:
    """One guest. `pace` multiplies moving time (1.0 = the rule, 1.2 = a fifth slower).

    `from_day` and `to_day` are the first and last day of the trip (1-based) on which the guest is there;
    `to_day` None = to the end. `age` None = an adult of unknown age.
    """

    id: GuestKey
    name: ClientText = ""
    age: int | None = None
    from_day: int = 1
    to_day: int | None = None
    pace: float = 1.0
    rider: LibraryText = "leisure"
    limits: Limits = Limits()
    height_cm: float | None = None
    mass_kg: float | None = None
    needs: tuple[Need, ...] = ()
    emergency_contact: ClientText = ""
    telephone: ClientText = ""
    email: ClientText = ""

    def there_on(self, day: int) -> bool:
        """Whether the guest is with the party on this day of the trip (1-based)."""
        return self.from_day <= day and (self.to_day is None or day <= self.to_day)

    def sleeps_after(self, day: int) -> bool:
        """Whether the guest stays the night after this day: nobody does on their last."""
        return self.from_day <= day and (self.to_day is None or day < self.to_day)


@dataclass(frozen=True, slots=True, kw_only=True)
class Wishes:
    """What the party asked for. None = not asked."""

    ways: tuple[Way, ...] = ()
    rest_days: int | None = None
    footing: Footing | None = None
    exposure: Exposure | None = None
    novices: bool = False
    likes: tuple[ClientText, ...] = ()
    budget: ClientText = ""
    text: ClientText = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Party:
    """The people of one trip, or a placeholder of so many adults while nobody has a name yet.

    `sharing` lists who shares a room, by traveller id; those in no group are alone.
    """

    name: ClientText = ""
    travellers: tuple[Traveller, ...] = ()
    sharing: tuple[tuple[GuestKey, ...], ...] = ()
    wishes: Wishes = Wishes()
    address: ClientText = ""

    def traveller(self, traveller_id: str) -> Traveller | None:
        return next((guest for guest in self.travellers if guest.id == traveller_id), None)

    def name_of(self, traveller_id: str) -> str:
        """The guest's name, or 'guest 2' while nobody has given one."""
        for number, guest in enumerate(self.travellers, start=1):
            if guest.id == traveller_id:
                return guest.name or f"guest {number}"
        return traveller_id


NOBODY = Party()


def placeholder_party(count: int, name: str = "") -> Party:
    """A party of so many adults without names, sharing by two."""
    guests = tuple(Traveller(id=f"t{number}") for number in range(1, count + 1))
    pairs = tuple(tuple(guest.id for guest in guests[start : start + 2]) for start in range(0, count, 2))
    return Party(name=name, travellers=guests, sharing=pairs)

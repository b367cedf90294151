"""What one cell of the sheet holds."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Pill:
    """A stay as it is drawn: from the middle of its first day to the middle of the day after its last night.

    `first` and `nights` count in days from 0; `part` is 'left' or 'right' half of the cell it is drawn in.
    """

    text: str
    state: str
    first: int
    nights: int
    part: str


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell.

    Attributes
    ----------
    text, sub
        What is drawn: a line, and under it a quieter one.
    short
        Said instead of `text` where that doesn't fit; empty = cut off.
    says
        The same in full for a screen reader and the tip; empty = `text`.
    tone
        'ink', 'quiet', 'good', 'warn' or 'stop'.
    card
        'walking', 'cycling', 'ride', 'rest', 'visit' or 'note' where the cell is a card.
    item_id
        The card's item.
    pills
        Stays crossing the cell.
    """

    text: str = ""
    sub: str = ""
    short: str = ""
    says: str = ""
    tone: str = "ink"
    card: str = ""
    item_id: str = ""
    pills: tuple[Pill, ...] = ()

    @property
    def spoken(self) -> str:
        return self.says or " ".join(part for part in (self.text, self.sub) if part)

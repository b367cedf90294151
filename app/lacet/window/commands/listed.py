"""Every command of every window: what it is called, what it does, its keys, and what it needs.

Nothing here knows Qt. `Commands` binds a window's commands to what does them.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from lacet.service.documents import DOCUMENTS, PACK, PROPOSAL


class Where(StrEnum):
    """The window a command belongs to; keys mean one thing in a window."""

    MAIN = "Trip"
    LIBRARY = "Library"
    STAGE_DESK = "Stage desk"
    DROP_TABLE = "Bringing in files"
    EVERYWHERE = "Every window"


class Need(StrEnum):
    """What a command can't do without, as the sentence that is said where it is missing."""

    TRIP = "No trip is open: choose one or begin a new one first."
    OFFICE = "Tariffs and margins stand there: first end 'Client looks on' (Ctrl+Shift+L)."


class Menu(StrEnum):
    """The menus of the header."""

    TITLE = "Trips and projects"
    HAND_OVER = "Hand over"


@dataclass(frozen=True, slots=True, kw_only=True)
class Command:
    """One command.

    Attributes
    ----------
    text
        As menus and the list of commands call it; dots where it asks something first.
    says
        What it does, in a line.
    keys
        Key sequences as Qt reads them, the usual one first.
    short
        What stands on its button, where that is less.
    """

    id: str
    text: str
    says: str
    where: Where = Where.MAIN
    keys: tuple[str, ...] = ()
    needs: tuple[Need, ...] = ()
    menu: Menu | None = None
    short: str = ""

    @property
    def name(self) -> str:
        """What assistive technology calls it."""
        return self.text.rstrip("…")

    @property
    def tip(self) -> str:
        """'Another trip of this project (Ctrl+O)'."""
        return f"{self.says} ({self.keys[0]})" if self.keys else self.says

    def fits(self, typed: str) -> bool:
        """Whether every word typed stands in its text or in what it does."""
        words = f"{self.text} {self.says}".casefold()
        return all(word in words for word in typed.casefold().split())


def of_window(where: Where) -> tuple[Command, ...]:
    """The commands of one window, in the order of the list; not those of every window."""
    return tuple(each for each in COMMANDS if each.where is where)


def command(command_id: str, where: Where = Where.MAIN) -> Command:
    """A command by its id."""
    return next(each for each in COMMANDS if (each.id, each.where) == (command_id, where))


_TRIP, _OFFICE = (Need.TRIP,), (Need.OFFICE,)


def _main() -> Iterator[Command]:
    yield Command(
        id="trips", text="Choose a trip…", says="Another trip of this project", keys=("Ctrl+O",),
        menu=Menu.TITLE,
    )  # fmt: skip
    yield Command(
        id="new", text="New trip from an enquiry…", says="A new trip from an enquiry", keys=("Ctrl+N",),
        menu=Menu.TITLE, short="New…",
    )  # fmt: skip
    yield Command(
        id="party", text="The party…", says="Guests, needs, limits and wishes", needs=_TRIP, menu=Menu.TITLE
    )
    yield Command(
        id="bookings", text="Bookings…", says="What was asked of suppliers, who did it and when",
        keys=("Ctrl+Shift+K",), needs=_TRIP, menu=Menu.TITLE,
    )  # fmt: skip
    yield Command(
        id="save standard", text="Save as a standard trip…", says="The open variant, without the client",
        needs=_TRIP, menu=Menu.TITLE,
    )  # fmt: skip
    yield Command(
        id="since standard", text="What differs from the standard trip",
        says="The open trip beside the standard trip it was begun from", needs=_TRIP, menu=Menu.TITLE,
    )  # fmt: skip
    yield Command(id="undo", text="Undo", says="Take back the last edit", keys=("Ctrl+Z",), short="↶")
    yield Command(
        id="redo", text="Redo", says="Make the edit again that was taken back",
        keys=("Ctrl+Y", "Ctrl+Shift+Z"), short="↷",
    )  # fmt: skip
    yield Command(
        id="rest day", text="Add a rest day", says="A day without a leg after the chosen one",
        keys=("Ctrl+R",), needs=_TRIP,
    )  # fmt: skip
    yield Command(id="find", text="Find on the shelf", says="Stages, lodgings and restaurants by words",
                  keys=("Ctrl+F",))  # fmt: skip
    yield from _variants()
    yield from _price_and_documents()
    yield from _library_and_project()


def _variants() -> Iterator[Command]:
    yield Command(id="copy variant", text="Copy this variant", says="One more of the same, to change",
                  needs=_TRIP, short="+ copy")  # fmt: skip
    yield Command(id="rename variant", text="Rename this variant…", says="Give it another name", needs=_TRIP)
    yield Command(id="propose variant", text="Propose this variant",
                  says="The one the client is offered, and shown first from now on", needs=_TRIP)  # fmt: skip
    yield Command(id="next variant", text="Next variant", says="Show the next one", keys=("Ctrl+Tab",),
                  needs=_TRIP)  # fmt: skip
    yield Command(id="previous variant", text="Previous variant", says="Show the one before",
                  keys=("Ctrl+Shift+Tab",), needs=_TRIP)  # fmt: skip
    yield Command(id="compare", text="Variants side by side", says="Figures, days and differences",
                  keys=("Ctrl+Shift+B",), short="Side by side")  # fmt: skip


def _price_and_documents() -> Iterator[Command]:
    yield Command(id="price", text="What it costs", says="The price by kind and by day",
                  keys=("Ctrl+Shift+P",), short="Price")  # fmt: skip
    yield Command(id="what if", text="What would it cost if…", says="The price of other parties and dates",
                  keys=("Ctrl+Shift+W",), menu=Menu.TITLE)  # fmt: skip
    yield Command(
        id="client looks", text="Client looks on",
        says="Hides net prices, mark-up, margin and commission everywhere", keys=("Ctrl+Shift+L",),
    )  # fmt: skip
    for document in DOCUMENTS:
        if document in (PROPOSAL, PACK):
            says = f"{document.says[0].upper()}{document.says[1:]}"
            yield Command(id=document.id, text=f"{document.name}…", says=says, needs=_TRIP,
                          menu=Menu.HAND_OVER)  # fmt: skip


def _library_and_project() -> Iterator[Command]:
    yield Command(id="library", text="Library…", says="Places, stages, lodgings, transfers and tariffs",
                  keys=("Ctrl+L",), needs=_OFFICE, menu=Menu.TITLE)  # fmt: skip
    yield Command(id="bring", text="Bring in files…", says="GPX files and sheets, looked at first",
                  keys=("Ctrl+B",), needs=_OFFICE, menu=Menu.TITLE)  # fmt: skip
    yield Command(id="stage", text="Edit a stage…", says="Its line, points and directions",
                  keys=("Ctrl+E",), menu=Menu.TITLE)  # fmt: skip
    yield Command(id="settings", text="Settings…", says="Figures, the office, the map, house rules",
                  needs=_OFFICE, menu=Menu.TITLE, short="⚙")  # fmt: skip
    yield Command(id="region", text="Region…", says="Time zone, currency, holidays, emergency number",
                  needs=_OFFICE, menu=Menu.TITLE)  # fmt: skip
    yield Command(id="open project", text="Open a project…", says="Another file, in the place of this one",
                  menu=Menu.TITLE)  # fmt: skip
    yield Command(id="new project", text="New library…", says="An empty project in a file of its own",
                  menu=Menu.TITLE)  # fmt: skip
    yield Command(id="elsewhere", text="Save elsewhere…", says="Save what can be reached in another file")
    yield Command(id="commands", text="Find a command…", says="All commands, found by words",
                  keys=("Ctrl+Shift+F",), menu=Menu.TITLE)  # fmt: skip
    yield Command(id="keys", text="Keys…", says="All keys, window by window", keys=("F1",),
                  menu=Menu.TITLE)  # fmt: skip
    yield Command(id="licences", text="Licences…", says="Whose packages Lacet stands on", menu=Menu.TITLE)


def _others() -> Iterator[Command]:
    for name, text, says, keys in (
        ("save", "Save", "Keep the item as its next version", ("Ctrl+S",)),
        # A field keeps Ctrl+Z for what is typed into it.
        ("undo", "Take back", "Take back what was kept last", ("Ctrl+Alt+Z", "Ctrl+Z")),
        ("new", "New", "A new item of this kind", ("Ctrl+N",)),
        ("find", "Find", "Items of this kind by words or by position", ("Ctrl+F",)),
        ("put back", "Put back", "Give up what was typed; with nothing typed, close", ("Esc",)),
        ("upkeep", "Upkeep", "Back up, restore, compact; trips for colleagues; erase guest data", ("Alt+U",)),
        ("next page", "Next page", "The next kind of item", ("Ctrl+Tab",)),
        ("previous page", "Previous page", "The kind of item before", ("Ctrl+Shift+Tab",)),
    ):
        yield Command(id=name, text=text, says=says, where=Where.LIBRARY, keys=keys)
    for name, text, says, keys in (
        ("undo", "Undo", "Take back the last change of the line", ("Ctrl+Z",)),
        ("redo", "Redo", "Make the change again that was taken back", ("Ctrl+Y", "Ctrl+Shift+Z")),
        ("save", "Save", "Save as new versions", ("Ctrl+S",)),
        ("cut", "Cut the line", "Cut it in two where the mark stands", ("Ctrl+K",)),
        ("point", "Add a point", "A point along the way where the mark stands", ("Ctrl+P",)),
        ("cue", "Add a direction", "A written direction where the mark stands", ("Ctrl+D",)),
    ):
        yield Command(id=name, text=text, says=says, where=Where.STAGE_DESK, keys=keys)
    for name, text, says, keys in (
        ("take in", "Take in", "Keep all of it in the library", ("Ctrl+Return",)),
        ("files", "Files…", "Choose files", ("Ctrl+O",)),
        ("tick", "Tick or untick", "Take or leave the chosen lines", ("Ctrl+T",)),
    ):
        yield Command(id=name, text=text, says=says, where=Where.DROP_TABLE, keys=keys)
    yield Command(id="close", text="Close", says="Close this window", where=Where.EVERYWHERE,
                  keys=("Ctrl+W",))  # fmt: skip
    yield Command(id="quit", text="Close all", says="Close all windows", where=Where.EVERYWHERE,
                  keys=("Ctrl+Q",))  # fmt: skip


COMMANDS = (*_main(), *_others())
"""In the order in which the list of commands shows them."""

SHEET_KEYS = (
    ("Space", "Take in hand what stands in the cell: a card, the end of a stay, else the day"),
    ("Arrows", "Move in the sheet; with something in hand, carry it"),
    ("Enter", "Drop what is in hand; else open the card's menu or the day"),
    ("F2", "Open the day"),
    ("Delete", "Remove the card"),
    ("Esc", "Put back what is in hand"),
    ("Menu", "What can be done with the day"),
    ("Ctrl++, Ctrl+-, Ctrl+0", "Wider days, narrower days, the whole trip"),
)
"""Keys that mean something in a cell of the sheet (`sheet/keys.py`, `carrying`), for the page of keys."""

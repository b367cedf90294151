"""What can be typed: one line a command, its words, and the module that runs it."""

import argparse
from collections.abc import Callable
from datetime import date
from importlib import import_module
from pathlib import Path

from lacet import __version__
from lacet.service.documents import COMPARISON, DOCUMENTS, QUOTE, Document

# Dates about a planned one, such as when a price ends, must be dates, too.
FIRST_YEAR, LAST_YEAR = 1900, 2200

Run = Callable[[argparse.Namespace], None]


def make_parser() -> argparse.ArgumentParser:
    """The parser; each command's `run` imports its module only when called."""
    parser = argparse.ArgumentParser(
        prog="lacet",
        description="Compose, prove and hand over self-guided trips on foot and by bike.",
        epilog="Trips and variants are given by name, id or number (variants also by letter). "
        "'python3 app/run.py PROJECT.lacet' (or lacet-window) opens the window on a project, without "
        "arguments on the last one, with 'demo' alone on the demo.",
    )
    parser.add_argument("--version", action="version", version=f"lacet {__version__}")
    commands = parser.add_subparsers(metavar="COMMAND", required=True)
    _demo(commands)
    _region(commands)
    _track(commands)
    _library(commands)
    _trips(commands)
    shown = _command(commands, "licences", "list what Lacet stands on and under which licences",
                     "licences:show", json=False)  # fmt: skip
    shown.add_argument("package", metavar="PACKAGE", nargs="?", help="show all texts of this one")
    return parser


def _command(commands: "argparse._SubParsersAction[argparse.ArgumentParser]", name: str, says: str, run: str,
             *, json: bool = True) -> argparse.ArgumentParser:  # fmt: skip
    """One command; `run` is 'module:function' within this package."""
    command = commands.add_parser(name, help=says, description=f"{says[0].upper()}{says[1:]}.")
    module, function = run.split(":")

    def call(arguments: argparse.Namespace) -> None:
        getattr(import_module(f"lacet.cli.{module}"), function)(arguments)

    command.set_defaults(run=call)
    if json:
        command.add_argument("--json", action="store_true", help="print plain data instead of a table")
    return command


def _demo(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    demo = _command(commands, "demo", "write the demo project and print its path", "demo:demo", json=False)
    demo.add_argument("directory", metavar="DIR", type=Path)


def _region(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    new = _command(commands, "new", "make an empty project and print its path", "region:new", json=False)
    new.add_argument("file", metavar="FILE", type=Path, help="where to make it (.lacet)")
    _region_options(new)
    region = _command(commands, "region", "say how a project reckons, or set it", "region:region")
    _project(region)
    _region_options(region)
    region.add_argument(
        "--accept", action="store_true", help="take what the library's first position proposes, where unset"
    )


def _region_options(command: argparse.ArgumentParser) -> None:
    """Each unset until somebody says it; '' takes it back."""
    command.add_argument("--zone", metavar="NAME", help="time zone, such as Atlantic/Azores")
    command.add_argument("--currency", metavar="CODE", help="currency to sell in, such as EUR")
    command.add_argument("--country", metavar="CODE", help="country of its public holidays, such as PT")
    command.add_argument("--part", metavar="CODE", help="part of the country with holidays of its own")
    command.add_argument(
        "--emergency",
        metavar="NUMBER",
        action="append",
        help="'112', or with what for: '140 mountain rescue'",
    )


def _track(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    track = _command(commands, "track", "say what GPX files hold", "track:track")
    track.add_argument("files", metavar="FILE", type=Path, nargs="+")


def _library(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    taken = _command(commands, "import", "take GPX files and sheets into the library", "take_in:take_in")
    _project(taken)
    taken.add_argument(
        "files", metavar="FILE", type=Path, nargs="+", help="GPX files, sheets, or folders of them"
    )
    taken.add_argument(
        "--way", choices=("walking", "cycling", "both"), help="ways of new stages; else as recorded"
    )
    taken.add_argument("--dry-run", action="store_true", help="say what would happen, change nothing")
    taken.epilog = (
        "Sheets are .csv files or workbooks (.xlsx) named after what they hold: places, stages, lodgings, "
        "rooms and so on. 'lacet template FILE' writes an empty workbook that explains every column. "
        "A PROJECT that isn't there yet is made if its name ends in .lacet."
    )
    export = _command(commands, "export", "write the library as sheets", "give_out:export", json=False)
    _project(export)
    export.add_argument(
        "--sheets", metavar="DIR", type=Path, required=True, help="folder for the CSV and GPX files"
    )
    _picture(commands)
    template = _command(commands, "template", "write an empty workbook to fill in for import",
                        "give_out:template", json=False)  # fmt: skip
    template.add_argument("file", metavar="FILE", type=Path, help="where to write it (.xlsx)")
    health = _command(commands, "health", "say what is missing or doubtful in the library", "health:health")
    _project(health)
    health.add_argument("--as-of", metavar="DATE", type=day_of, help="today, for next season's rates")
    stages = _command(commands, "stages", "list the stages of the library", "library:stages")
    _project(stages)
    rules = _command(
        commands, "rules", "set all published rules beside each other for one stage", "rules:rules"
    )
    _project(rules)
    rules.add_argument("stage", metavar="STAGE", help="a stage by name or id")


def _picture(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    picture = _command(commands, "picture", "take in pictures of a place, stage, lodging or restaurant",
                       "picture:picture", json=False)  # fmt: skip
    _project(picture)
    picture.add_argument("item", metavar="ITEM", help="by id or whole name")
    picture.add_argument("files", metavar="FILE", type=Path, nargs="+", help="JPEG, PNG or WebP")
    picture.add_argument(
        "--alt", metavar="TEXT", required=True, help="what they show, for who can't see them"
    )
    picture.add_argument("--credit", metavar="TEXT", default="", help="whose they are")
    picture.add_argument("--first", action="store_true", help="show them before those it has")


def _trips(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    trips = _command(commands, "trips", "list the trips and their variants", "trips:trips")
    _project(trips)
    assess = _command(commands, "assess", "assess one variant of a trip", "trips:assess_variant")
    _variant(assess)
    assess.add_argument(
        "--as-of", metavar="DATE", type=day_of, help="today, for options and prices (YYYY-MM-DD)"
    )
    assess.add_argument("--parts", action="store_true", help="open each line to the findings it is made of")
    _in_language(assess)
    for document in DOCUMENTS:
        if document.comes_whole:
            _hand_over(commands, document)
    _erase(commands)
    quote = _command(commands, "quote", f"say {QUOTE.says}", "quote:quote")
    _variant(quote)
    quote.add_argument("--as-of", metavar="DATE", type=day_of, help="today, for rates and validity")
    quote.add_argument(
        "--out", metavar="FILE", type=Path, help=f"write it, too ({' or '.join(QUOTE.endings)})"
    )
    quote.add_argument("--client", action="store_true", help="selling prices only: no net, no margin")
    quote.add_argument("--issue", action="store_true", help="keep the quote as issued, with its inputs")
    quote.add_argument(
        "--accepted", action="store_true", help="issue it and note that the client said yes at this price"
    )
    quote.add_argument(
        "--document", metavar="NUMBER", type=number_of, help="a quote as it was issued, not as it is today"
    )
    compare = _command(commands, "compare", f"set {COMPARISON.says}", "compare:compare")
    _project(compare)
    compare.add_argument("trip", metavar="TRIP")
    compare.add_argument("variants", metavar="VARIANT", nargs="+", help="two to four, or one with --standard")
    compare.add_argument("--base", metavar="NAME", help="the variant the others are held against")
    compare.add_argument("--as-of", metavar="DATE", type=day_of, help="today, for options and prices")
    compare.add_argument(
        "--out",
        metavar="FILE",
        type=Path,
        help=f"write it, too, by the name's ending: {', '.join(COMPARISON.endings)}",
    )
    compare.add_argument("--client", action="store_true", help="without margins")
    compare.add_argument(
        "--standard", action="store_true", help="hold them against the standard trip this one was begun from"
    )


def _erase(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    erase = _command(commands, "erase", "erase guest data of a trip, with all its history", "erase:erase")
    _project(erase)
    erase.add_argument("trip", metavar="TRIP")
    erase.add_argument("--yes", action="store_true", help="do it; without this only say what would go")
    erase.add_argument(
        "--redact",
        action="store_true",
        help="also take their names out of the texts of other trips and the library",
    )
    erase.add_argument(
        "--delete-files",
        action="store_true",
        help="also delete files of the trip that lie where they were put",
    )


def _hand_over(commands: "argparse._SubParsersAction[argparse.ArgumentParser]", document: Document) -> None:
    """A document that comes whole has a command of its own."""
    command = _command(commands, document.id, f"write {document.says}", "hand_over:hand_over", json=False)
    command.set_defaults(document=document, draft=False)
    _variant(command)
    command.add_argument("--out", metavar="DIR", type=Path, required=True, help="folder for the files")
    _on_paper(command)
    if document.may_be_draft:
        command.add_argument(
            "--draft", action="store_true", help="mark it as a draft, whatever is still open"
        )
    command.add_argument("--as-of", metavar="DATE", type=day_of, help="today, for prices and validity")


def _project(command: argparse.ArgumentParser) -> None:
    command.add_argument("project", metavar="PROJECT", type=Path, help="a .lacet file")


def _variant(command: argparse.ArgumentParser) -> None:
    _project(command)
    command.add_argument("trip", metavar="TRIP")
    command.add_argument("variant", metavar="VARIANT")


def day_of(text: str) -> date:
    """A date as YYYY-MM-DD within the years trips are planned for, for argparse."""
    try:
        day = date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"'{text}' is not a date; write it as 2027-05-08") from None
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise argparse.ArgumentTypeError(f"'{text}' is outside the years {FIRST_YEAR} to {LAST_YEAR}")
    return day


def number_of(text: str) -> int:
    """The number of a document, for argparse."""
    # Python turns no more than some thousand digits into a number.
    if not text.isdecimal() or len(text) > 9 or not int(text):
        raise argparse.ArgumentTypeError(f"'{text}' is no document's number; they count from 1")
    return int(text)


def _in_language(command: argparse.ArgumentParser) -> None:
    """How texts and figures are said."""
    command.add_argument("--language", metavar="TAG", default="en", help="en, de; with a region as in en-US")
    command.add_argument("--units", choices=("metric", "imperial"), default="metric", help="of figures")


def _on_paper(command: argparse.ArgumentParser) -> None:
    """How documents of a trip are set."""
    command.add_argument("--paper", choices=("a4", "letter"), default="a4", help="size of the PDF's pages")
    _in_language(command)
    command.add_argument("--theme", metavar="FILE", type=Path, help="the office's look (.toml)")

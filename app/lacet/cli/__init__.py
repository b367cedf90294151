"""The same program without a window. Imports no Qt; each command imports what it needs when it runs.

Exit codes: 0 done, 1 refused (one sentence on standard error), 2 misspelt command, 70 an error
of Lacet's own.
"""

import io
import sys
from collections.abc import Sequence

from lacet.cli.parser import make_parser
from lacet.trip.errors import LacetError

# EX_SOFTWARE of sysexits.h (BSD): an internal error of the program.
UNFORESEEN = 70


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    for stream in (sys.stdout, sys.stderr):
        # A file or an older console may know few letters; a name it can't write is no reason to stop.
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")
    arguments = make_parser().parse_args(argv)
    try:
        arguments.run(arguments)
    except LacetError as refusal:
        _say_why(_in_their_language(refusal, getattr(arguments, "language", "en")))
        return 1
    except KeyboardInterrupt:
        print("lacet: stopped; nothing was changed.", file=sys.stderr)
        return 1
    except BrokenPipeError:
        # The reader (`| head`) has seen enough.
        sys.stderr.close()
        return 0
    except OSError as error:
        # Whatever a disk refuses that nobody foresaw is told like any other refusal.
        _say_why(_refused(error))
        return 1
    except Exception as error:
        from lacet.unexpected import Unexpected, report_folder

        Unexpected(lambda sentence: _say_why(f"{sentence} It lies in {report_folder()}.")).take(error)
        return UNFORESEEN
    return 0


def _in_their_language(refusal: LacetError, tag: str) -> str:
    """The refusal in the language that was asked for; in English where that isn't one."""
    if tag == "en":
        return str(refusal)
    from lacet.documents.language import LanguageRefused, language

    try:
        return language(tag).say(refusal.says)
    except LanguageRefused:
        return str(refusal)


def _refused(error: OSError) -> str:
    where = f"{error.filename}: " if error.filename else ""
    return f"{where}{error.strerror or error}. Choose another place, or set it right there, and try again."


def _say_why(sentence: str) -> None:
    # What draws tables takes a while to load; only those who are refused or told something wait for it.
    from lacet.cli.telling import harmless

    print(f"lacet: {harmless(sentence)}", file=sys.stderr)

"""The same program without a window. Imports no Qt; each command imports what it needs when it runs.

Exit codes: 0 done, 1 refused (one sentence on standard error), 2 misspelt command.
"""

import sys
from collections.abc import Sequence

from lacet.cli.parser import make_parser
from lacet.trip.errors import LacetError


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    arguments = make_parser().parse_args(argv)
    try:
        arguments.run(arguments)
    except LacetError as refusal:
        print(f"lacet: {refusal}", file=sys.stderr)
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
        print(f"lacet: {_refused(error)}", file=sys.stderr)
        return 1
    return 0


def _refused(error: OSError) -> str:
    where = f"{error.filename}: " if error.filename else ""
    return f"{where}{error.strerror or error}. Choose another place, or set it right there, and try again."

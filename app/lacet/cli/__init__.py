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
    return 0

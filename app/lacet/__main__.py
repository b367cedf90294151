"""`python -m lacet` is the command line."""

import sys

from lacet.cli import main

if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

"""`python -m fitout` is the same as the `fitout` command."""

import sys

from fitout.cli import main

if __name__ == "__main__":
    sys.exit(main())

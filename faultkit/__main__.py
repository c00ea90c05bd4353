"""`python -m faultkit`."""

import sys

from faultkit.commands.main import console

if __name__ == "__main__":
    sys.exit(console())

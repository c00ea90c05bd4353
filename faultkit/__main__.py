"""`python -m faultkit`."""

import sys

from faultkit.commands.main import main

if __name__ == "__main__":
    sys.exit(main())

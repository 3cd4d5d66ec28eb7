"""`python3 -m aftercare`: set up what is missing in a checkout, then run the command with the checkout's own Python."""

from __future__ import annotations

import sys

if sys.version_info < (3, 11):
    sys.exit(f"aftercare needs Python 3.11 or later; this is {sys.version.split()[0]}. Try: python3.11 -m aftercare")

from aftercare.bootstrap import RUN_TIME, CannotSetUp, find_checkout, restart, set_up


def main() -> None:
    """Set up, then hand over to the command line."""
    root = find_checkout()
    if root is not None:
        try:
            set_up(root, RUN_TIME)
        except CannotSetUp as problem:
            sys.exit(str(problem))
        restart(root)
    # Only now, since it needs the packages that set-up brings.
    from aftercare.cli import main as run

    run()


if __name__ == "__main__":
    main()

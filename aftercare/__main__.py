"""`python3 -m aftercare`: in a checkout, install what is missing and run the command with the checkout's own Python."""

from __future__ import annotations

import sys
from importlib.util import find_spec

if sys.version_info < (3, 11):
    sys.exit(f"aftercare needs Python 3.11 or later; this is {sys.version.split()[0]}. Try: python3.11 -m aftercare")


def main() -> None:
    """Prepare a checkout, then run the command line. An installed package comes without `bootstrap` and needs none."""
    if find_spec("aftercare.bootstrap"):
        prepare_checkout()
    # Not at the top: it imports packages that may have been installed just now.
    from aftercare.cli import main as run

    run()


def prepare_checkout() -> None:
    """Install what the checkout lacks and restart with its Python; exits with a message where that cannot be done."""
    from aftercare.bootstrap import RUN_TIME, CannotSetUp, find_checkout, restart, set_up

    root = find_checkout()
    if root is None:
        return
    try:
        set_up(root, RUN_TIME)
    except CannotSetUp as problem:
        sys.exit(str(problem))
    restart(root)


if __name__ == "__main__":
    main()

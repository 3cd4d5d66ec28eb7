"""`python3 -m tests`: set up what the tests need, then run every check. With arguments, run only pytest with those.

`python3 -m tests --benchmark` prints the table of measured times instead.
"""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from pathlib import Path

if sys.version_info < (3, 11):
    sys.exit(f"The tests need Python 3.11 or later; this is {sys.version.split()[0]}. Try: python3.11 -m tests")

from aftercare.bootstrap import RUN_TIME, CannotSetUp, Tools, find_checkout, restart, run, say, set_up

TEST_TOOLS = Tools("test", "tests/tools/requirements.lock", "test-system-packages")
CHECKS = {
    "style": ("ruff", "check", "--quiet", "."),
    "layout of code": ("ruff", "format", "--check", "--quiet", "."),
    "types": ("mypy",),
}
# A browser works in each of pytest's processes; more than four of them only wait for each other.
MOST_PROCESSES = 4


def main(arguments: list[str]) -> int:
    """Exit code 0 only if every check passed."""
    root = find_checkout()
    if root is None:
        sys.exit("The tests run from a checkout, not from an installed package.")
    try:
        set_up(root, RUN_TIME, TEST_TOOLS)
        _install_node_tools(root / "tests" / "tools")
    except CannotSetUp as problem:
        sys.exit(str(problem))
    restart(root)
    if arguments == ["--benchmark"]:
        return _python(root, "-m", "tests.benchmark")
    if arguments:
        return _python(root, "-m", "pytest", *arguments)
    failed = [name for name, command in CHECKS.items() if not _passes(root, name, command)]
    processes = str(min(os.cpu_count() or 1, MOST_PROCESSES))
    # pytest comes last, so that its count is the closing line.
    tests = _python(root, "-m", "pytest", "-n", processes)
    if failed:
        print(f"Failed besides: {', '.join(failed)}; see above.", file=sys.stderr)
    return tests or (1 if failed else 0)


def _python(root: Path, *arguments: str) -> int:
    return subprocess.run((sys.executable, *arguments), cwd=root).returncode


def _passes(root: Path, name: str, command: tuple[str, ...]) -> bool:
    ended = subprocess.run(
        (sys.executable, "-m", *command), cwd=root, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, encoding="utf-8"
    )
    print(f"{name}: {'passed' if ended.returncode == 0 else 'FAILED'}", flush=True)
    if ended.returncode:
        print(ended.stdout, flush=True)
    return ended.returncode == 0


def _install_node_tools(folder: Path) -> None:
    """The web checkers of the committed package lock; nothing when the folder already holds just those."""
    wanted = hashlib.sha256((folder / "package-lock.json").read_bytes()).hexdigest()
    made_from = folder / "node_modules" / "aftercare.stamp"
    if made_from.is_file() and made_from.read_text(encoding="utf-8") == wanted:
        return
    say("Installing the web checkers of tests/tools/package-lock.json.")
    # No package here needs a script of its own to be installed, and some would fetch a browser.
    command = ("npm", "ci", "--ignore-scripts", "--no-audit", "--no-fund")
    run(command, "The web checkers could not be installed.", folder=folder)
    made_from.write_text(wanted, encoding="utf-8")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

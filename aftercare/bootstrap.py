"""Sets up a checkout: the locked Python packages in `.venv`, and system packages.

Imports only the standard library, so that it works before anything is installed.
"""

from __future__ import annotations

import ctypes
import hashlib
import importlib.util
import os
import shutil
import subprocess
import sys
import tomllib
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

APT = "apt-get"
INSTALL = ("install", "-y", "--no-install-recommends")


class CannotSetUp(Exception):
    """Set-up failed; the message says in plain words what to do."""


@dataclass(frozen=True, slots=True)
class Need:
    """A requirement on the system: alternative packages that provide it, preferred first, and how to detect it.

    Detected by a shared library's file name, a Python module, or any one of the commands.
    """

    packages: tuple[str, ...]
    library: str = ""
    module: str = ""
    commands: tuple[str, ...] = ()

    def is_met(self) -> bool:
        """Whether the library, module or command is there, from whatever package."""
        if self.module:
            return importlib.util.find_spec(self.module) is not None
        if self.library:
            try:
                ctypes.CDLL(self.library)
            except OSError:
                return False
            return True
        return any(shutil.which(command) for command in self.commands)


@dataclass(frozen=True, slots=True)
class Tools:
    """A set of tools: its name, its lock file in the checkout, and the key of its system packages in pyproject.toml."""

    name: str
    lock: str
    system: str


@dataclass(frozen=True, slots=True)
class Rights:
    """What this account can do: `apt` and `sudo` are installed, the account is root, and `silent`: sudo asks no password."""

    apt: bool
    root: bool = False
    sudo: bool = False
    silent: bool = False

    @property
    def prefix(self) -> tuple[str, ...] | None:
        """The command prefix for apt-get, or None where this account cannot run it."""
        if not self.apt or not (self.root or (self.sudo and self.silent)):
            return None
        return () if self.root else ("sudo", "-n")


RUN_TIME = Tools("run-time", "requirements.lock", "system-packages")
# Debian and Ubuntu have this part of Python in a separate package; without it a virtual environment has no pip.
VENV = Need((f"python{sys.version_info.major}.{sys.version_info.minor}-venv",), module="ensurepip")


def find_rights() -> Rights:
    """Detect what this account can do."""
    sudo = shutil.which("sudo") is not None
    silent = sudo and subprocess.run(("sudo", "-n", "true"), stderr=subprocess.DEVNULL).returncode == 0
    return Rights(shutil.which(APT) is not None, os.geteuid() == 0, sudo, silent)


def find_checkout() -> Path | None:
    """Return the root of the checkout with this file, or None where the program is an installed package."""
    root = Path(__file__).resolve().parent.parent
    return root if (root / "pyproject.toml").is_file() and (root / RUN_TIME.lock).is_file() else None


def set_up(root: Path, *sets: Tools, rights: Callable[[], Rights] = find_rights) -> None:
    """Install what is missing of these sets of tools; takes milliseconds when nothing is.

    Raises CannotSetUp where this account may not install, or where an installer fails.
    """
    needs = [need for tools in sets for need in read_needs(root / "pyproject.toml", tools.system)]
    if not _venv_python(root).exists():
        needs.append(VENV)
    # System packages first, and for all sets together, so that who must install them by hand gets a single line to run.
    missing = [need for need in needs if not need.is_met()]
    if missing:
        _install_system(missing, rights())
    for tools in sets:
        if not _is_installed(root, tools):
            _install_python(root, tools)


def restart(root: Path) -> None:
    """Replace this process by the same command with the Python of `.venv`, unless that is running already."""
    if not _runs_in_venv(root):
        os.execv(_venv_python(root), [str(_venv_python(root)), *sys.orig_argv[1:]])


def read_needs(pyproject: Path, key: str) -> tuple[Need, ...]:
    """Read the system packages under a key of `[tool.aftercare]` in pyproject.toml."""
    entries = tomllib.loads(pyproject.read_text(encoding="utf-8"))["tool"]["aftercare"][key]
    return tuple(
        Need(tuple(entry["packages"]), library=entry.get("library", ""), commands=tuple(entry.get("commands", ())))
        for entry in entries
    )


def stamp(lock: bytes, version: tuple[int, ...]) -> str:
    """Return the content of the stamp file: the hash of the lock file and the version of Python (major, minor)."""
    return f"{hashlib.sha256(lock).hexdigest()} {version[0]}.{version[1]}"


def what_to_run(missing: Sequence[Need], rights: Rights) -> str:
    """Return the message with the exact line to run, for people who do not know Python."""
    sudo = "sudo " if rights.sudo or not rights.apt else ""
    names = " ".join(need.packages[0] for need in missing)
    line = f"    {sudo}{APT} update && {sudo}{APT} {' '.join(INSTALL)} {names}"
    if not rights.apt:
        detected_by = ", ".join(need.library or need.module or " or ".join(need.commands) for need in missing)
        return (
            f"This machine lacks: {detected_by}. It has no {APT}, so they cannot be installed from here.\n"
            f"Install them as is usual on this machine, then run the same command again. On Debian and Ubuntu that is:\n{line}"
        )
    return (
        f"The system lacks packages that this account may not install by itself: {names}.\n"
        f"{'Run this line' if sudo else 'Have this line run as root'}, then run the same command again:\n{line}"
    )


def first_known(need: Need, known: Iterable[str]) -> str:
    """Return the first package of a need that is among the `known` ones, else its preferred package."""
    names = set(known)
    return next((name for name in need.packages if name in names), need.packages[0])


def say(text: str) -> None:
    """Print progress on stderr, so that it is not part of a command's output."""
    print(text, file=sys.stderr, flush=True)


def run(command: Sequence[str], failed: str, *, folder: Path | None = None) -> None:
    """Run an installer in `folder` and hide its output. Raises CannotSetUp with the output and `failed` where it fails."""
    result = subprocess.run(
        command,
        cwd=folder,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
        errors="replace",
    )
    if result.returncode:
        raise CannotSetUp(f"{result.stdout.strip()}\n{failed} Its output is above. Then run the same command again.")


def _install_system(missing: Sequence[Need], rights: Rights) -> None:
    if rights.prefix is None:
        raise CannotSetUp(what_to_run(missing, rights))
    # Set by `env`, since sudo does not pass on environment variables.
    apt_get = (*rights.prefix, "env", "DEBIAN_FRONTEND=noninteractive", APT, "-qq")
    say("Reading the system's package lists (apt-get update).")
    # Its exit code is ignored: earlier package lists may do, and without them the installation below fails.
    subprocess.run((*apt_get, "update"), stdin=subprocess.DEVNULL, stdout=sys.stderr)
    names = [first_known(need, _installable(need.packages)) for need in missing]
    say(f"Installing system packages: {', '.join(names)} (a minute or two).")
    run((*apt_get, *INSTALL, *names), f"{APT} could not install {', '.join(names)}.")
    unmet = ", ".join(need.packages[0] for need in missing if not need.is_met())
    if unmet:
        raise CannotSetUp(f"{APT} succeeded, yet these are still not there: {unmet}.")


def _installable(packages: Sequence[str]) -> list[str]:
    """Return those of these packages that the system's package lists have."""
    outputs = {name: subprocess.run(("apt-cache", "policy", name), capture_output=True, text=True).stdout for name in packages}
    return [name for name, text in outputs.items() if "Candidate:" in text and "Candidate: (none)" not in text]


def _venv_python(root: Path) -> Path:
    return root / ".venv" / "bin" / "python"


def _runs_in_venv(root: Path) -> bool:
    return Path(sys.prefix).resolve() == (root / ".venv").resolve()


def _stamp_file(root: Path, tools: Tools) -> Path:
    return root / ".venv" / f"aftercare-{tools.name}.stamp"


def _is_installed(root: Path, tools: Tools) -> bool:
    """Whether `.venv` has the packages of the present lock file, for the version of Python in it."""
    file = _stamp_file(root, tools)
    if not _venv_python(root).exists() or not file.is_file():
        return False
    actual, expected = file.read_text(encoding="utf-8"), stamp((root / tools.lock).read_bytes(), sys.version_info[:2])
    # Another Python cannot read the version of the one in `.venv` without starting it, so only the hashes are compared.
    return actual == expected if _runs_in_venv(root) else actual.split()[:1] == expected.split()[:1]


def _install_python(root: Path, tools: Tools) -> None:
    python, venv = _venv_python(root), root / ".venv"
    has_pip = python.exists() and subprocess.run((str(python), "-c", "import pip"), stderr=subprocess.DEVNULL).returncode == 0
    if not has_pip:
        say(f"Creating {venv}.")
        run((sys.executable, "-m", "venv", "--clear", str(venv)), f"{venv} could not be created.")
    say(f"Installing the {tools.name} Python packages of {tools.lock} (about a minute, the first time only).")
    pip = (str(python), "-m", "pip", "install", "--quiet", "--disable-pip-version-check", "--require-hashes", "--no-deps")
    run((*pip, "-r", tools.lock), "Python packages could not be installed.", folder=root)
    version = subprocess.run((str(python), "-c", "import sys; print(*sys.version_info[:2])"), capture_output=True, text=True)
    numbers = tuple(int(part) for part in version.stdout.split())
    _stamp_file(root, tools).write_text(stamp((root / tools.lock).read_bytes(), numbers), encoding="utf-8")

"""Set-up of a bare checkout with the standard library alone: the locked Python packages in `.venv`, and system packages.

Nothing else of ours is imported here, so that this works before anything is installed.
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
    """Set-up cannot go on; the text says in plain words what the reader must do."""


@dataclass(frozen=True, slots=True)
class Need:
    """Something of the system's: the packages that bring it, first choice first, and what proves that it is there.

    `library` is a shared library's file name, `module` a Python module; of `commands` any one will do.
    """

    packages: tuple[str, ...]
    library: str = ""
    module: str = ""
    commands: tuple[str, ...] = ()

    def is_met(self) -> bool:
        """Whether the thing itself is there, whoever installed it."""
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
    """One set of tools: its name, its lock file under the checkout, and its list of system packages in pyproject.toml."""

    name: str
    lock: str
    system: str


@dataclass(frozen=True, slots=True)
class Rights:
    """What this account may do: `apt` and `sudo` are on the machine, `silent` when sudo works without asking for a password."""

    apt: bool
    root: bool = False
    sudo: bool = False
    silent: bool = False

    @property
    def prefix(self) -> tuple[str, ...] | None:
        """The words to put before apt-get, or None where it is not ours to run."""
        if not self.apt or not (self.root or (self.sudo and self.silent)):
            return None
        return () if self.root else ("sudo", "-n")


RUN_TIME = Tools("run-time", "requirements.lock", "system-packages")
# Debian and Ubuntu keep this part of Python in a package of its own; without it a virtual environment has no pip.
VENV = Need((f"python{sys.version_info.major}.{sys.version_info.minor}-venv",), module="ensurepip")


def find_rights() -> Rights:
    """What the account that runs this may do here."""
    sudo = shutil.which("sudo") is not None
    silent = sudo and subprocess.run(("sudo", "-n", "true"), stderr=subprocess.DEVNULL).returncode == 0
    return Rights(shutil.which(APT) is not None, os.geteuid() == 0, sudo, silent)


def find_checkout() -> Path | None:
    """The checkout this file stands in, or None when the program is installed and needs no set-up."""
    root = Path(__file__).resolve().parent.parent
    return root if (root / "pyproject.toml").is_file() and (root / RUN_TIME.lock).is_file() else None


def set_up(root: Path, *sets: Tools, rights: Callable[[], Rights] = find_rights) -> None:
    """Bring in what is missing of these sets of tools; does nothing, in milliseconds, when all is there.

    Raises CannotSetUp where this account may not install, or where an installer fails.
    """
    needs = [need for tools in sets for need in read_needs(root / "pyproject.toml", tools.system)]
    if not _venv_python(root).exists():
        needs.append(VENV)
    # The system first, and for all sets at once, so that a person who must install by hand is told a single line.
    missing = [need for need in needs if not need.is_met()]
    if missing:
        _install_system(missing, rights())
    for tools in sets:
        if not _fits(root, tools):
            _install_python(root, tools)


def restart(root: Path) -> None:
    """Run the same command again with the checkout's own Python, unless it is the one running now."""
    if not _inside(root):
        os.execv(_venv_python(root), [str(_venv_python(root)), *sys.orig_argv[1:]])


def read_needs(pyproject: Path, key: str) -> tuple[Need, ...]:
    """The system packages under `[tool.aftercare]` in pyproject.toml."""
    listed = tomllib.loads(pyproject.read_text(encoding="utf-8"))["tool"]["aftercare"][key]
    return tuple(
        Need(tuple(entry["packages"]), library=entry.get("library", ""), commands=tuple(entry.get("commands", ())))
        for entry in listed
    )


def stamp(lock: bytes, version: tuple[int, ...]) -> str:
    """What `.venv` was made from: the lock's hash and the Python's version, as kept in the stamp file."""
    return f"{hashlib.sha256(lock).hexdigest()} {version[0]}.{version[1]}"


def what_to_run(missing: Sequence[Need], rights: Rights) -> str:
    """The exact line that a person must run, in words for one who knows no Python."""
    sudo = "sudo " if rights.sudo or not rights.apt else ""
    names = " ".join(need.packages[0] for need in missing)
    line = f"    {sudo}{APT} update && {sudo}{APT} {' '.join(INSTALL)} {names}"
    if not rights.apt:
        wanted = ", ".join(need.library or need.module or " or ".join(need.commands) for need in missing)
        return (
            f"This machine lacks: {wanted}. It has no {APT}, so they cannot be installed from here.\n"
            f"Install them as is usual on this machine, then run the same command again. On Debian and Ubuntu that is:\n{line}"
        )
    return (
        f"The system lacks packages that this account may not install by itself: {names}.\n"
        f"{'Run this line' if sudo else 'Have this line run as root'}, then run the same command again:\n{line}"
    )


def first_known(need: Need, known: Iterable[str]) -> str:
    """The first of a need's packages that the system's package lists hold; its first choice when they hold none."""
    held = set(known)
    return next((name for name in need.packages if name in held), need.packages[0])


def say(text: str) -> None:
    """Tell the person at the terminal what goes on; on stderr, so that a command's own output stays clean."""
    print(text, file=sys.stderr, flush=True)


def run(command: Sequence[str], failed: str, *, folder: Path | None = None) -> None:
    """Run an installer, quietly unless it fails; then raises CannotSetUp with its own words and `failed`."""
    ended = subprocess.run(
        command,
        cwd=folder,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
        errors="replace",
    )
    if ended.returncode:
        raise CannotSetUp(f"{ended.stdout.strip()}\n{failed} Its own words are above. Then run the same command again.")


def _install_system(missing: Sequence[Need], rights: Rights) -> None:
    if rights.prefix is None:
        raise CannotSetUp(what_to_run(missing, rights))
    # Through `env`, since sudo drops what we would set around it.
    apt_get = (*rights.prefix, "env", "DEBIAN_FRONTEND=noninteractive", APT, "-qq")
    say("Reading the system's package lists (apt-get update).")
    # A list that cannot be read now may still be on disk from before; if not, the install below fails and says so.
    subprocess.run((*apt_get, "update"), stdin=subprocess.DEVNULL, stdout=sys.stderr)
    names = [first_known(need, _known(need.packages)) for need in missing]
    say(f"Installing system packages: {', '.join(names)} (a minute or two).")
    run((*apt_get, *INSTALL, *names), f"{APT} could not install {', '.join(names)}.")
    still = [need for need in missing if not need.is_met()]
    if still:
        raise CannotSetUp(f"{APT} succeeded, yet these are still not there: {', '.join(need.packages[0] for need in still)}.")


def _known(packages: Sequence[str]) -> list[str]:
    """Which of these the package lists offer for installing."""
    shown = {name: subprocess.run(("apt-cache", "policy", name), capture_output=True, text=True).stdout for name in packages}
    return [name for name, text in shown.items() if "Candidate:" in text and "Candidate: (none)" not in text]


def _venv_python(root: Path) -> Path:
    return root / ".venv" / "bin" / "python"


def _inside(root: Path) -> bool:
    return Path(sys.prefix).resolve() == (root / ".venv").resolve()


def _stamp_file(root: Path, tools: Tools) -> Path:
    return root / ".venv" / f"aftercare-{tools.name}.stamp"


def _fits(root: Path, tools: Tools) -> bool:
    """Whether `.venv` was made from this very lock, and for the Python now in it."""
    file = _stamp_file(root, tools)
    if not _venv_python(root).exists() or not file.is_file():
        return False
    found, wanted = file.read_text(encoding="utf-8"), stamp((root / tools.lock).read_bytes(), sys.version_info[:2])
    # From outside we cannot see the version of the Python inside without starting it; inside, it is our own.
    return found == wanted if _inside(root) else found.split()[:1] == wanted.split()[:1]


def _install_python(root: Path, tools: Tools) -> None:
    python, venv = _venv_python(root), root / ".venv"
    has_pip = python.exists() and subprocess.run((str(python), "-c", "import pip"), stderr=subprocess.DEVNULL).returncode == 0
    if not has_pip:
        say(f"Making {venv}.")
        run((sys.executable, "-m", "venv", "--clear", str(venv)), f"{venv} could not be made.")
    say(f"Installing the {tools.name} Python packages of {tools.lock} (about a minute, the first time only).")
    pip = (str(python), "-m", "pip", "install", "--quiet", "--disable-pip-version-check", "--require-hashes", "--no-deps")
    run((*pip, "-r", tools.lock), "Python packages could not be installed.", folder=root)
    version = subprocess.run((str(python), "-c", "import sys; print(*sys.version_info[:2])"), capture_output=True, text=True)
    made_for = tuple(int(part) for part in version.stdout.split())
    _stamp_file(root, tools).write_text(stamp((root / tools.lock).read_bytes(), made_for), encoding="utf-8")

"""Tests that README and DEVELOPERS name existing commands, options, files and functions, and the number of devices."""

from __future__ import annotations

import re
from importlib import import_module
from pathlib import Path

import click
import pytest

from aftercare.cli import build_group, sheets
from aftercare.library.catalogue import Library

DOCUMENTS = ("README.md", "DEVELOPERS.md")


def text_of(checkout: Path, *names: str) -> str:
    return "\n".join((checkout / name).read_text(encoding="utf-8") for name in names)


def command_lines(text: str) -> list[list[str]]:
    """The words of every `aftercare` command that is named in code, from the command's own name on."""
    code = re.findall(r"```\n(.*?)```|`([^`\n]+)`", text.replace("\\\n", " "), re.DOTALL)
    lines = [line for block, inline in code for line in (block or inline).splitlines()]
    return [match[1].split() for line in lines if (match := re.match(r"(?:python3 -m )?aftercare (\w.*)", line.strip()))]


def test_every_command_and_option_that_is_named_exists(checkout: Path) -> None:
    lines = command_lines(text_of(checkout, *DOCUMENTS))

    assert len(lines) > 10
    for words in lines:
        command: click.Command = build_group()
        while isinstance(command, click.Group) and words:
            name, *words = words
            if "|" in name:  # several commands on one line
                assert set(name.split("|")) <= set(command.commands), name
                break
            assert name in command.commands, name
            command = command.commands[name]
        known = {option for parameter in command.params for option in parameter.opts}
        named = {option for word in words for option in re.findall(r"^\[?(--?[a-z]+)", word)}
        assert named <= known, (command.name, named - known)


def test_every_list_is_named(checkout: Path) -> None:
    (line,) = [words for words in command_lines(text_of(checkout, "README.md")) if words[0] == "list"]

    assert set(line[1].split("|")) == set(sheets.LISTS)


def test_every_file_that_is_named_exists(checkout: Path) -> None:
    named = re.findall(r"`([\w/.*-]+/[\w.*-]+\.(?:py|md|yaml|txt|toml|html|json))`", text_of(checkout, *DOCUMENTS))

    assert len(named) > 5
    assert [name for name in named if not [*checkout.glob(name), *(checkout / "aftercare").glob(name)]] == []


def test_every_function_of_the_pipeline_is_in_the_module_of_the_table(checkout: Path) -> None:
    named = re.findall(r"`((?:library|sheet|language|page|site)\.\w+)\.(\w+)`", text_of(checkout, "DEVELOPERS.md"))

    assert len(named) > 7
    assert [(module, name) for module, name in named if not hasattr(import_module(f"aftercare.{module}"), name)] == []


def test_the_counts_in_the_changelog_are_right(checkout: Path, library: Library) -> None:
    counts = re.search(r"(\d+) devices in (\d+) materials, (\d+) options", text_of(checkout, "DEVELOPERS.md"))

    assert counts
    assert [int(count) for count in counts.groups()] == [len(library.devices), len(library.materials), len(library.options)]


@pytest.mark.parametrize("line", ["aftercare check --forever", "python3 -m aftercare fly", "aftercare translate send|status"])
def test_a_command_that_does_not_exist_is_detected(tmp_path: Path, line: str) -> None:
    for name in DOCUMENTS:
        (tmp_path / name).write_text(f"```\n{line}\n" + "aftercare check\n" * 11 + "```\n")

    with pytest.raises(AssertionError):
        test_every_command_and_option_that_is_named_exists(tmp_path)

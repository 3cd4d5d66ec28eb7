"""YAML mappings read key by key, each value with its line, every problem kept instead of raised."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import yaml

from aftercare.errors import Fault, Problem, Where, did_you_mean, listed


class Fields:
    """A YAML mapping and the list its problems go to.

    Every getter answers with something of the asked type even when the value is bad, so that one run finds all
    problems; whoever owns `problems` must not use the result when the list is not empty.
    """

    def __init__(self, node: yaml.Node | None, where: Where, problems: list[Problem], first_line: int = 1) -> None:
        self.where = where  # what a problem of the whole mapping is blamed on
        self._first_line = first_line  # of the YAML text inside its file
        self.problems = problems
        self._nodes: dict[str, yaml.Node] = {}
        self._keys: dict[str, int] = {}
        self._asked: set[str] = set()
        if node is None:
            return
        if not isinstance(node, yaml.MappingNode):
            self.blame(Fault.BAD_HEADER, "This should be lines of 'key: value'.", at=self._line(node))
            return
        for key, value in node.value:
            name, line = str(key.value), self._line(key)
            if name in self._nodes:
                self.blame(Fault.DUPLICATE, f"'{name}' stands here twice.", advice="Keep one.", at=line)
            self._nodes[name] = value
            self._keys[name] = line

    def _line(self, node: yaml.Node) -> int:
        return self._first_line + int(node.start_mark.line)

    def blame(self, fault: Fault, what: str, allowed: str = "", advice: str = "", at: int | None = None) -> None:
        """Keep a problem of this file at a line, or at the start of the mapping."""
        where = Where(self.where.path, at or self.where.line)
        self.problems.append(Problem(fault, what, allowed, advice, where))

    def keys(self) -> Iterator[str]:
        """The keys in file order."""
        return iter(self._nodes)

    def place(self, key: str) -> Where:
        """Where a key stands."""
        return Where(self.where.path, self._keys.get(key, self.where.line))

    def _take(self, key: str, needed: bool) -> yaml.Node | None:
        self._asked.add(key)
        node = self._nodes.get(key)
        if node is None and needed:
            self.blame(Fault.MISSING_KEY, f"'{key}' is missing.", advice=f"Add a line '{key}: …'.")
        return node

    def text(self, key: str, default: str | None = None) -> str:
        """A single value as text; needed unless there is a default."""
        node = self._take(key, needed=default is None)
        if node is None:
            return default or ""
        if not isinstance(node, yaml.ScalarNode):
            self.blame(Fault.BAD_VALUE, f"'{key}' should be one value.", at=self._line(node))
            return default or ""
        return "" if node.tag.endswith(":null") else str(node.value)

    def word(self, key: str, allowed: Iterable[str], default: str | None = None) -> str:
        """One of the allowed words."""
        known = tuple(allowed)
        found = self.text(key, default)
        if key in self._nodes and found not in known:
            self._unknown(key, found, known, self._keys[key])
        return found if found in known else (default or (known[0] if known else ""))

    def words(self, key: str, allowed: Iterable[str] | None = None, *, needed: bool = False) -> tuple[str, ...]:
        """A list of words (a single word counts as a list of one), each allowed and none twice."""
        node = self._take(key, needed=needed)
        if node is None:
            return ()
        nodes = node.value if isinstance(node, yaml.SequenceNode) else [node]
        found: list[str] = []
        known = None if allowed is None else tuple(allowed)
        for item in nodes:
            if not isinstance(item, yaml.ScalarNode):
                self.blame(Fault.BAD_VALUE, f"'{key}' should be a list of words.", at=self._line(item))
            elif known is not None and item.value not in known:
                self._unknown(key, item.value, known, self._line(item))
            elif item.value in found:
                self.blame(Fault.DUPLICATE, f"'{item.value}' stands twice in '{key}'.", at=self._line(item))
            else:
                found.append(str(item.value))
        return tuple(found)

    def numbers(self, key: str, *, needed: bool = True) -> tuple[float, ...]:
        """A number, or a list of them."""
        node = self._take(key, needed=needed)
        if node is None:
            return ()
        nodes = node.value if isinstance(node, yaml.SequenceNode) else [node]
        found: list[float] = []
        for item in nodes:
            try:
                found.append(float(item.value))
            except (TypeError, ValueError):
                self.blame(Fault.BAD_VALUE, f"'{key}' should be a number, found '{item.value}'.", at=self._line(item))
        return tuple(found)

    def whole(self, key: str, default: int | None = None) -> int:
        """A whole number."""
        found = self.text(key, None if default is None else str(default))
        try:
            return int(found)
        except ValueError:
            if key in self._nodes:
                self.blame(Fault.BAD_VALUE, f"'{key}' should be a whole number, found '{found}'.", at=self._keys[key])
            return default or 0

    def flag(self, key: str, default: bool) -> bool:
        """true or false."""
        return self.word(key, ("true", "false"), "true" if default else "false") == "true"

    def inside(self, key: str, *, needed: bool = False) -> Fields:
        """The mapping under a key; empty where absent."""
        node = self._take(key, needed=needed)
        return Fields(node, self.place(key), self.problems, self._first_line)

    def _unknown(self, key: str, found: str, known: tuple[str, ...], line: int) -> None:
        self.blame(Fault.UNKNOWN_NAME, f"'{key}' says '{found}'.", listed(known), did_you_mean(found, known), line)

    def done(self) -> None:
        """Blame every key nobody asked for."""
        for key, line in self._keys.items():
            if key not in self._asked:
                asked = sorted(self._asked)
                self.blame(Fault.UNKNOWN_KEY, f"Unknown key '{key}'.", listed(asked), did_you_mean(key, asked), line)


# The same parser in C, several times as fast, where the package was built with it.
_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


def parse_yaml(text: str, where: Where, problems: list[Problem]) -> Fields:
    """A YAML text as Fields. `where.line` is the line of the text's first line; unreadable YAML becomes one problem."""
    try:
        node = yaml.compose(text, Loader=_LOADER)
    except yaml.MarkedYAMLError as error:
        line = where.line + (error.problem_mark.line if error.problem_mark else 0)
        what, advice = f"Not readable as YAML: {error.problem}.", "Look at the quotes, colons and brackets there."
        problems.append(Problem(Fault.BAD_HEADER, what, advice=advice, where=Where(where.path, line)))
        node = None
    return Fields(node, where, problems, where.line)

"""Reads YAML mappings key by key, each value with its line, and collects problems instead of raising at the first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import yaml

from aftercare.errors import Fault, Problem, Where, nearest


class Fields:
    """A YAML mapping and the list its problems are added to.

    Every getter returns a value of the requested type even when the value in the file is bad, so that one run reports
    all problems; the owner of `problems` must not use the result when the list is not empty.
    """

    def __init__(self, node: yaml.Node | None, where: Where, problems: list[Problem], first_line: int = 1) -> None:
        self.where = where  # the place of a problem of the whole mapping
        self._first_line = first_line  # of the YAML text inside its file
        self.problems = problems
        self._nodes: dict[str, yaml.Node] = {}
        self._key_lines: dict[str, int] = {}
        self._requested: set[str] = set()
        if node is None:
            return
        if not isinstance(node, yaml.MappingNode):
            self.blame(Fault.BAD_HEADER, "This should be lines of 'key: value'.", at=self._line(node))
            return
        for key_node, value in node.value:
            key, line = str(key_node.value), self._line(key_node)
            if key in self._nodes:
                self.blame(Fault.DUPLICATE, "The key {} stands here twice.", subject=(key,), advice="Keep one.", at=line)
            self._nodes[key] = value
            self._key_lines[key] = line

    def _line(self, node: yaml.Node) -> int:
        return self._first_line + int(node.start_mark.line)

    def blame(
        self,
        fault: Fault,
        what: str,
        *,
        subject: tuple[str, ...] = (),
        allowed: Iterable[str] = (),
        suggestion: str = "",
        advice: str = "",
        key: str = "",
        at: int | None = None,
    ) -> None:
        """Add a problem of this file, located at the line `at`, else at the line of `key`, else at the start of the mapping."""
        where = Where(self.where.path, at or self.place(key).line)
        self.problems.append(
            Problem(fault, what, subject=subject, allowed=tuple(allowed), suggestion=suggestion, advice=advice, where=where)
        )

    def keys(self) -> Iterator[str]:
        """The keys in file order."""
        return iter(self._nodes)

    def place(self, key: str) -> Where:
        """The line of a key; the start of the mapping where the key is absent."""
        return Where(self.where.path, self._key_lines.get(key, self.where.line))

    def _node(self, key: str, needed: bool) -> yaml.Node | None:
        self._requested.add(key)
        node = self._nodes.get(key)
        if node is None and needed:
            self.blame(Fault.MISSING_KEY, "The key {} is missing.", subject=(key,), advice="Add a line with it and its value.")
        return node

    def text(self, key: str, default: str | None = None) -> str:
        """A single value as text; a problem where it is absent and there is no default."""
        node = self._node(key, needed=default is None)
        if node is None:
            return default or ""
        if not isinstance(node, yaml.ScalarNode):
            self.blame(Fault.BAD_VALUE, "The key {} should have one value.", subject=(key,), at=self._line(node))
            return default or ""
        return "" if node.tag.endswith(":null") else str(node.value)

    def word(self, key: str, allowed: Iterable[str], default: str | None = None) -> str:
        """One of the allowed words."""
        vocabulary = tuple(allowed)
        word = self.text(key, default)
        if key in self._nodes and word not in vocabulary:
            self._blame_unknown(key, word, vocabulary, self._key_lines[key])
        return word if word in vocabulary else (default or (vocabulary[0] if vocabulary else ""))

    def words(self, key: str, allowed: Iterable[str] | None = None, *, needed: bool = False) -> tuple[str, ...]:
        """A list of words (a single word counts as a list of one), each allowed and none twice."""
        vocabulary = None if allowed is None else tuple(allowed)
        words: list[str] = []
        for item in self._items(key, needed):
            if not isinstance(item, yaml.ScalarNode):
                self.blame(Fault.BAD_VALUE, "The key {} should have a list of words.", subject=(key,), at=self._line(item))
            elif vocabulary is not None and item.value not in vocabulary:
                self._blame_unknown(key, item.value, vocabulary, self._line(item))
            elif item.value in words:
                self.blame(Fault.DUPLICATE, "The word {} stands twice in {}.", subject=(item.value, key), at=self._line(item))
            else:
                words.append(str(item.value))
        return tuple(words)

    def numbers(self, key: str, *, needed: bool = True) -> tuple[float, ...]:
        """A number, or a list of them."""
        numbers: list[float] = []
        for item in self._items(key, needed):
            written = str(item.value) if isinstance(item, yaml.ScalarNode) else "a list or a mapping"
            try:
                numbers.append(float(written))
            except ValueError:
                what = "The key {} should have a number, not {}."
                self.blame(Fault.BAD_VALUE, what, subject=(key, written), at=self._line(item))
        return tuple(numbers)

    def _items(self, key: str, needed: bool) -> list[yaml.Node]:
        """The nodes of a list; a single value counts as a list of one."""
        node = self._node(key, needed)
        if node is None:
            return []
        return node.value if isinstance(node, yaml.SequenceNode) else [node]

    def whole(self, key: str, default: int | None = None) -> int:
        """A whole number."""
        written = self.text(key, None if default is None else str(default))
        try:
            return int(written)
        except ValueError:
            if key in self._nodes:
                self.blame(Fault.BAD_VALUE, "The key {} should have a whole number, not {}.", subject=(key, written), key=key)
            return default or 0

    def flag(self, key: str, default: bool) -> bool:
        """true or false."""
        return self.word(key, ("true", "false"), "true" if default else "false") == "true"

    def inside(self, key: str, *, needed: bool = False) -> Fields:
        """The mapping under a key; empty where absent."""
        return Fields(self._node(key, needed), self.place(key), self.problems, self._first_line)

    def _blame_unknown(self, key: str, word: str, vocabulary: tuple[str, ...], line: int) -> None:
        self.blame(
            Fault.UNKNOWN_NAME,
            "The key {} has the unknown word {}.",
            subject=(key, word),
            allowed=vocabulary,
            suggestion=nearest(word, vocabulary),
            at=line,
        )

    def done(self) -> None:
        """Add a problem for each key in the file that no getter was asked for; call it after the last getter."""
        allowed = sorted(self._requested)
        for key in self._nodes:
            if key not in self._requested:
                suggestion = nearest(key, allowed)
                what = "Unknown key {}."
                self.blame(Fault.UNKNOWN_KEY, what, subject=(key,), allowed=allowed, suggestion=suggestion, key=key)


# The parser in C is several times as fast; PyYAML has it where it was built with libyaml.
_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


def parse_yaml(text: str, where: Where, problems: list[Problem]) -> Fields:
    """Parse a YAML text. `where.line` is the line of its first line in the file; unreadable YAML becomes one problem."""
    node = None
    try:
        node = yaml.compose(text, Loader=_LOADER)
    except yaml.MarkedYAMLError as error:
        place = Where(where.path, where.line + (error.problem_mark.line if error.problem_mark else 0))
        advice = "Look at the quotes, colons and brackets there."
        what = "Not readable as YAML; the parser says {}."
        problems.append(Problem(Fault.BAD_HEADER, what, subject=(str(error.problem),), advice=advice, where=place))
    except yaml.reader.ReaderError as error:
        # The two parsers count positions differently (characters, bytes), so the character is searched for.
        before = text.partition(chr(error.character))[0]
        place = Where(where.path, where.line + before.count("\n"))
        what = f"The character U+{error.character:04X} is not allowed here."
        problems.append(Problem(Fault.BAD_HEADER, what, advice="Delete it.", where=place))
    return Fields(node, where, problems, where.line)

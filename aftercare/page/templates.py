"""The templates and assets of one folder, read once, and the parts of pages that many pages share."""

from __future__ import annotations

from collections.abc import Hashable
from functools import lru_cache
from pathlib import Path

from jinja2 import DictLoader, Environment, StrictUndefined
from markupsafe import Markup

# A phone site in three languages has some 3,000 different parts of 1 to 5 kB.
_MOST_PARTS = 8192


class Templates:
    """The templates of a folder as they were when this was made; an edit on disk needs a new object.

    Everything put into a template is escaped, and a name that the caller did not give is an error. Safe across threads.
    """

    def __init__(self, folder: Path) -> None:
        self._files = {
            path.relative_to(folder).as_posix(): path.read_text(encoding="utf-8")
            for path in sorted(folder.rglob("*"))
            if path.suffix in (".html", ".css", ".js")
        }
        self._environment = Environment(
            loader=DictLoader(self._files),
            autoescape=True,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
            auto_reload=False,
        )
        # Typed, since Markup and the text that is to be escaped are equal.
        self._cached_part = lru_cache(_MOST_PARTS, typed=True)(self._part)

    def text(self, name: str) -> str:
        """The text of a file, such as "paper/page.css". Raises KeyError for one that is not there."""
        return self._files[name]

    def render(self, name: str, /, **values: object) -> str:
        """A template with its values, as HTML."""
        return self._environment.get_template(name).render(**values)

    def part(self, template: str, macro: str, *arguments: Hashable) -> Markup:
        """What a macro of a template makes of its arguments, memoised. It sees nothing else: equal arguments, equal HTML."""
        return self._cached_part(template, macro, *arguments)

    def _part(self, template: str, macro: str, *arguments: Hashable) -> Markup:
        rendered: Markup = getattr(self._environment.get_template(template).module, macro)(*arguments)
        return rendered

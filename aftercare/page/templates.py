"""Renders the templates of a folder, and caches parts that many pages share."""

from __future__ import annotations

from collections.abc import Hashable
from functools import lru_cache
from pathlib import Path

from jinja2 import DictLoader, Environment, StrictUndefined
from markupsafe import Markup

# A phone site in three languages has some 3,000 different parts of 1 to 5 kB.
_MOST_PARTS = 8192


class Templates:
    """The templates, styles and scripts of a folder, read once: an edit on disk needs a new object. Thread-safe.

    Values are escaped, and a template that uses a name without a value raises UndefinedError.
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
        """Return the text of a file, such as "paper/page.css". Raises KeyError for an unknown name."""
        return self._files[name]

    def render(self, name: str, /, **values: object) -> str:
        """Render a template as HTML. Raises TemplateNotFound for an unknown name."""
        return self._environment.get_template(name).render(**values)

    def part(self, template: str, macro: str, *arguments: Hashable) -> Markup:
        """Render a macro of a template, cached by its arguments. A macro sees only them: equal arguments give equal HTML."""
        return self._cached_part(template, macro, *arguments)

    def _part(self, template: str, macro: str, *arguments: Hashable) -> Markup:
        rendered: Markup = getattr(self._environment.get_template(template).module, macro)(*arguments)
        return rendered

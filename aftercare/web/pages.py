"""The desk's own templates. Everything put into them is escaped; a name nobody gave is an error."""

from __future__ import annotations

from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined


class Pages:
    """Renders the templates in `templates/web`."""

    def __init__(self, templates: Path) -> None:
        self._environment = Environment(
            loader=FileSystemLoader(templates / "web"),
            autoescape=True,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
        )

    def show(self, name: str, **values: object) -> str:
        """The template with its values, as HTML."""
        return self._environment.get_template(name).render(**values)

"""The desk's own templates. Everything put into them is escaped; a name nobody gave is an error."""

from __future__ import annotations

from pathlib import Path

from aftercare.page.html import environment


class Pages:
    """Renders the templates in `templates/web`."""

    def __init__(self, templates: Path) -> None:
        self._environment = environment(templates / "web")

    def show(self, name: str, **values: object) -> str:
        """The template with its values, as HTML."""
        return self._environment.get_template(name).render(**values)

"""Advice of the small world that names the figure of a date and depends on the patient."""

from __future__ import annotations

from tests.small_world import FILES, option


def advice_for_both(figure: str) -> dict[str, str | None]:
    """The advice that names the figure, for patients who have both the option `cold` and the weight order `full`."""
    header = "topic: care\norder: 40\napplies: {options: [cold], weights: [full]}"
    named: dict[str, str | None] = {"advice/both.md": f"---\nid: both\n{header}\n---\n# Both\nFor: {{{figure}}}.\n"}
    care = FILES["advice/care.md"].replace("- Keep it up for: {raise_hours}.\n", "")
    return {**option("cold", 2), "advice/ice-days.md": None, "advice/care.md": care, **named}

"""Styles and scripts of the phone site: made small, and allowed by hash in each page's security policy."""

from __future__ import annotations

import base64
import hashlib
import re
from dataclasses import dataclass

from aftercare.page.templates import Templates


def asset(templates: Templates, name: str) -> str:
    """The style or script of every phone page, without comments and indentation: readable here, light on the phone."""
    text = templates.text(f"phone/{name}")
    if name.endswith(".css"):
        text = re.sub(r"/\*.*?\*/", "", text, flags=re.DOTALL)
        return re.sub(r"\s*([{};,>])\s*|(:)\s+", r"\1\2", re.sub(r"\s+", " ", text)).replace(";}", "}").strip()
    lines = (line.strip() for line in text.splitlines())
    return "\n".join(line for line in lines if line and not line.startswith("//"))


def policy(style: str, script: str) -> str:
    """The content security policy: our own style and inline script by hash, our own files beside them, nothing else."""
    return (
        f"default-src 'none'; style-src '{_hash(style)}'; script-src 'self' '{_hash(script)}'; img-src 'self'; "
        "connect-src 'self'; manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'"
    )


@dataclass(frozen=True, slots=True)
class DeferredScript:
    """The script that stands beside the pages. `path` is from the root of the site and holds its hash, so that browsers may
    keep it for good and each earlier page finds its own; `integrity` is for the page that loads it.
    """

    path: str
    integrity: str
    text: str


# What a page can do without until it is on the screen, in the order it is read.
DEFERRED = ("storage.js", "check.js", "dates.js", "more.js")


def deferred_script(templates: Templates) -> DeferredScript:
    """The script a page loads once it is on the screen."""
    text = "\n".join(asset(templates, name) for name in DEFERRED)
    return DeferredScript(f"more-{hashlib.sha256(text.encode()).hexdigest()[:12]}.js", _hash(text), text)


def _hash(text: str) -> str:
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()


@dataclass(frozen=True, slots=True)
class PhoneAssets:
    """The style and script inside every phone page, the policy that allows them, and the script beside the pages."""

    style: str
    script: str
    policy: str
    deferred: DeferredScript

    @classmethod
    def of(cls, templates: Templates) -> PhoneAssets:
        """The assets of these templates."""
        style, script = asset(templates, "page.css"), asset(templates, "page.js")
        return cls(style, script, policy(style, script), deferred_script(templates))

"""Styles and scripts of the phone site: minified, and allowed by hash in each page's content security policy."""

from __future__ import annotations

import base64
import hashlib
from dataclasses import dataclass

from rcssmin import cssmin
from rjsmin import jsmin

from aftercare.page.templates import Templates


def asset(templates: Templates, name: str) -> str:
    """Return a style or script of `templates/phone`, minified. Raises KeyError for an unknown name."""
    text = templates.text(f"phone/{name}")
    minified: str = cssmin(text) if name.endswith(".css") else jsmin(text)
    return minified.strip()


def policy(style: str, script: str) -> str:
    """Return the content security policy: this inline style and script by hash, files of the same origin, nothing else."""
    return (
        f"default-src 'none'; style-src '{_hash(style)}'; script-src 'self' '{_hash(script)}'; img-src 'self'; "
        "connect-src 'self'; manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'"
    )


@dataclass(frozen=True, slots=True)
class DeferredScript:
    """The script file that every phone page loads after it is rendered.

    `path` is relative to the root of the site and holds a hash of the text, so that browsers can cache the file for good and
    archived pages still load their own. `integrity` is the value of the attribute in the page.
    """

    path: str
    integrity: str
    text: str


# The files of the deferred script, in the order in which they run.
DEFERRED = ("storage.js", "check.js", "dates.js", "more.js")


def deferred_script(templates: Templates) -> DeferredScript:
    """Join the files of `DEFERRED` into one script."""
    text = "\n".join(asset(templates, name) for name in DEFERRED)
    return DeferredScript(f"more-{hashlib.sha256(text.encode()).hexdigest()[:12]}.js", _hash(text), text)


def _hash(text: str) -> str:
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()


@dataclass(frozen=True, slots=True)
class PhoneAssets:
    """The inline style and script of every phone page, the policy that allows them, and the deferred script."""

    style: str
    script: str
    policy: str
    deferred: DeferredScript

    @classmethod
    def of(cls, templates: Templates) -> PhoneAssets:
        """Compute the assets of these templates."""
        style, script = asset(templates, "page.css"), asset(templates, "page.js")
        return cls(style, script, policy(style, script), deferred_script(templates))

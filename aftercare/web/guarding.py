"""What every answer carries: nothing is kept, nothing is framed by others, nothing is loaded from elsewhere."""

from __future__ import annotations

import base64
import hashlib
import re

from flask import Flask, Response
from werkzeug.exceptions import HTTPException

from aftercare.web.pages import Pages

# A form with every option ticked is under 2 kB; more is no form of ours.
LARGEST_FORM = 16_384

_DESK = {
    "default-src": "'none'",
    "style-src": "'self'",
    "script-src": "'self'",
    "img-src": "'self' data:",
    "font-src": "'self'",
    "connect-src": "'self'",
    "frame-src": "'self'",
    "form-action": "'self'",
    "base-uri": "'none'",
    "frame-ancestors": "'none'",
}
_STYLE = re.compile(r"<style[^>]*>(.*?)</style>", re.DOTALL)
_STYLE_ATTRIBUTE = re.compile(r"\sstyle=\"([^\"]*)\"")


def policy(rules: dict[str, str]) -> str:
    """A Content-Security-Policy header."""
    return "; ".join(f"{name} {value}" for name, value in rules.items())


def sheet_policy(html: str) -> str:
    """The policy for a sheet shown in the desk's frame: its own inline styles by hash, and no script at all."""
    inline = [*_STYLE.findall(html), *_STYLE_ATTRIBUTE.findall(html)]
    hashes = {base64.b64encode(hashlib.sha256(style.encode()).digest()).decode() for style in inline}
    styles = " ".join(f"'sha256-{value}'" for value in sorted(hashes))
    return policy(
        {
            "default-src": "'none'",
            "style-src": f"'self' 'unsafe-hashes' {styles}".strip(),
            "img-src": "'self' data:",
            "font-src": "'self' data:",
            "form-action": "'none'",
            "base-uri": "'none'",
            "frame-ancestors": "'self'",
        }
    )


def guard(app: Flask, pages: Pages) -> None:
    """Put the headers on every answer that does not bring its own, and answer errors in our own words."""

    @app.after_request
    def headers(response: Response) -> Response:
        response.headers.setdefault("Cache-Control", "no-store")
        response.headers.setdefault("Content-Security-Policy", policy(_DESK))
        response.headers.setdefault("Referrer-Policy", "no-referrer")
        response.headers.setdefault("X-Content-Type-Options", "nosniff")
        response.headers.setdefault("Cross-Origin-Resource-Policy", "same-origin")
        response.headers.setdefault("Permissions-Policy", "camera=(), geolocation=(), microphone=()")
        return response

    @app.errorhandler(HTTPException)
    def refused(error: HTTPException) -> tuple[str, int]:
        return pages.show("wrong.html", code=error.code, what=error.name), error.code or 500

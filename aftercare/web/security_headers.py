"""Security headers of every response: nothing is cached, framed by other sites or loaded from them."""

from __future__ import annotations

import base64
import hashlib
import re

from flask import Flask, Response

_DESK_RULES = {
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
    """The value of a Content-Security-Policy header, from its directives."""
    return "; ".join(f"{name} {value}" for name, value in rules.items())


def sheet_policy(html: str) -> str:
    """The policy of a sheet in the desk's frame: only its own inline styles, by hash, and no script."""
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


def add_security_headers(app: Flask) -> None:
    """Adds the headers to every response; a header that a view has set itself stays."""

    @app.after_request
    def add_headers(response: Response) -> Response:
        response.headers.setdefault("Cache-Control", "no-store")
        response.headers.setdefault("Content-Security-Policy", policy(_DESK_RULES))
        response.headers.setdefault("Referrer-Policy", "no-referrer")
        response.headers.setdefault("X-Content-Type-Options", "nosniff")
        response.headers.setdefault("Cross-Origin-Resource-Policy", "same-origin")
        response.headers.setdefault("Permissions-Policy", "camera=(), geolocation=(), microphone=()")
        return response

"""Runs the desk's web server."""

from __future__ import annotations

import ipaddress
import socket
from collections.abc import Callable, Iterable

from waitress.server import create_server

from aftercare.errors import Fault, Refused

# Printing runs behind one lock, so more threads would only wait.
THREADS = 8


def refuse_public_bind(host: str, *, everyone: bool) -> None:
    """Raises Refused for a host address that other machines can reach, unless `everyone` allows it."""
    try:
        loopback = ipaddress.ip_address(host).is_loopback
    except ValueError:
        loopback = host == "localhost"
    if loopback or everyone:
        return
    raise Refused.one(
        Fault.BAD_VALUE,
        "On {} every machine of the network could open the desk, which asks for no password.",
        subject=(host,),
        allowed=("127.0.0.1", "localhost", "::1"),
        advice="If the network is the clinic's own and that is wanted, say so with --everyone.",
    )


def serve(
    app: Callable[..., Iterable[bytes]],
    host: str,
    port: int,
    *,
    everyone: bool = False,
    ready: Callable[[], None] = lambda: None,
) -> None:
    """Serves until stopped; `ready` is called once the port is open.

    Raises Refused for a host address that other machines can reach, as `refuse_public_bind` does, and for a port in use.
    """
    refuse_public_bind(host, everyone=everyone)
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    try:
        # Opened here, since the server would leave its own socket half open if the port is in use.
        listening = socket.create_server((host, port), family=family)
    except OSError as error:
        raise Refused.one(
            Fault.CANNOT_SERVE,
            f"Cannot serve on port {port} of {{}}: {{}}.",
            subject=(host, error.strerror or str(error)),
            advice="Choose another with --port, or stop what uses it.",
        ) from error
    ready()
    server = create_server(app, sockets=[listening], threads=THREADS, ident=None)
    try:
        server.run()
    finally:
        server.close()

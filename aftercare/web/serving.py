"""Serves the desk on this machine."""

from __future__ import annotations

import ipaddress
import socket
from collections.abc import Callable, Iterable

from waitress.server import create_server

from aftercare.errors import Fault, Problem, Refused

# Printing takes turns behind one lock, so more threads would only wait.
THREADS = 8


def refuse_open_door(host: str, *, everyone: bool) -> None:
    """Raises Refused for an address other machines can reach, unless that was asked for in so many words."""
    try:
        loopback = ipaddress.ip_address(host).is_loopback
    except ValueError:
        loopback = host == "localhost"
    if loopback or everyone:
        return
    what = f"On '{host}' every machine of the network could open the desk, which asks for no password."
    advice = "If the network is the clinic's own and that is wanted, say so with --everyone."
    raise Refused([Problem(Fault.BAD_VALUE, what, "Allowed: 127.0.0.1, localhost, ::1.", advice)])


def serve(
    app: Callable[..., Iterable[bytes]],
    host: str,
    port: int,
    *,
    everyone: bool = False,
    ready: Callable[[], None] = lambda: None,
) -> None:
    """Serve until stopped; `ready` is called once the port is ours. Raises Refused for an open door or a taken port."""
    refuse_open_door(host, everyone=everyone)
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    try:
        # Ours rather than the server's own, which would be left half open where the port is taken.
        listening = socket.create_server((host, port), family=family)
    except OSError as error:
        what = f"Cannot serve on port {port} of {host}: {error.strerror}."
        raise Refused(
            [Problem(Fault.CANNOT_SERVE, what, advice="Choose another with --port, or stop what uses it.")]
        ) from error
    ready()
    server = create_server(app, sockets=[listening], threads=THREADS, ident=None)
    try:
        server.run()
    finally:
        server.close()

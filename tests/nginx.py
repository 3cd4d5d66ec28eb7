"""A real web server in front of a folder, under a sub-path, with its own request log."""

from __future__ import annotations

import shutil
import socket
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

CONFIG = """\
daemon off;
pid {work}/pid;
error_log {work}/error.log;
events {{ worker_connections 64; }}
http {{
  types {{ text/html html; text/javascript js; image/svg+xml svg; application/manifest+json webmanifest; text/plain txt; }}
  default_type application/octet-stream;
  access_log {work}/access.log;
  client_body_temp_path {work}/body; proxy_temp_path {work}/proxy; fastcgi_temp_path {work}/fcgi;
  uwsgi_temp_path {work}/uwsgi; scgi_temp_path {work}/scgi;
  gzip on; gzip_types text/javascript image/svg+xml application/manifest+json;
  server {{
    listen 127.0.0.1:{port};
    location /care/sheets/ {{
      alias {site}/;
      charset utf-8;
      {extra}
    }}
  }}
}}
"""
HARDENED = """add_header X-Content-Type-Options nosniff; add_header Content-Security-Policy "frame-ancestors 'none'";"""


@dataclass(frozen=True, slots=True)
class Nginx:
    """Where it serves the folder, and its log."""

    address: str
    log: Path


@contextmanager
def nginx(site: Path, work: Path, extra: str = HARDENED) -> Iterator[Nginx]:
    """Serve `site` at /care/sheets/ on a free port of this machine; `work` takes its log and its other files."""
    program = shutil.which("nginx", path="/usr/sbin:/usr/local/sbin:/usr/bin:/usr/local/bin")
    assert program is not None, "nginx is missing; the set-up of the tests installs it"
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    work.mkdir(parents=True, exist_ok=True)
    # Its worker is another user, who must be let through to the folder.
    for folder in (site, *site.parents):
        if folder.stat().st_mode & 0o005 != 0o005:
            folder.chmod(folder.stat().st_mode | 0o055)
    (work / "nginx.conf").write_text(CONFIG.format(work=work, site=site, port=port, extra=extra))
    process = subprocess.Popen([program, "-c", str(work / "nginx.conf"), "-e", str(work / "error.log")])
    try:
        for _ in range(100):
            with socket.socket() as asking:
                if asking.connect_ex(("127.0.0.1", port)) == 0:
                    break
            time.sleep(0.05)
        yield Nginx(f"http://127.0.0.1:{port}/care/sheets/", work / "access.log")
    finally:
        process.terminate()
        process.wait()

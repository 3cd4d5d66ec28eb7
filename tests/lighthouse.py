"""Lighthouse's judgement of a served page on a phone, in the system's own Chromium."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
from pathlib import Path
from typing import Any

PROGRAM = Path(__file__).resolve().parent / "tools" / "node_modules" / "lighthouse" / "cli" / "index.js"


def lighthouse(address: str, *categories: str) -> dict[str, Any]:
    """The report of a page. `categories` such as `accessibility`; all where none is named."""
    chromium = shutil.which("chromium") or shutil.which("chromium-browser") or "chromium"
    command = ["node", str(PROGRAM), address, "--quiet", "--output=json", "--form-factor=mobile"]
    command += ["--chrome-flags=--headless=new --no-sandbox --disable-dev-shm-usage"]
    command += [f"--only-categories={','.join(categories)}"] if categories else []
    run = subprocess.run(command, capture_output=True, text=True, env={**os.environ, "CHROME_PATH": chromium}, check=False)
    assert run.returncode == 0, run.stderr
    report: dict[str, Any] = json.loads(run.stdout)
    return report


def scores(report: dict[str, Any]) -> dict[str, int]:
    """Each category's score, of 100."""
    return {name: round(100 * category["score"]) for name, category in report["categories"].items()}

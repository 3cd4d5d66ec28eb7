"""The print engine and a browser draw our pictures alike: two independent readings of the SVG specification."""

from __future__ import annotations

import io
import subprocess
from pathlib import Path

from PIL import Image, ImageChops, ImageFilter
from playwright.sync_api import Browser
from weasyprint import HTML

from aftercare.library.catalogue import Library
from aftercare.pictures import device_picture

COLUMNS, WIDE, HIGH = 6, 240, 120
MOST_GRAY = 60  # of 255, after a blur that evens out how edges are smoothed; a missing line or fill gives 100 and more


def test_every_device_looks_the_same_on_paper_and_on_the_phone(browser: Browser, library: Library, tmp_path: Path) -> None:
    devices = list(library.devices.values())
    cells = ""
    for place, device in enumerate(devices):
        svg = device_picture(device, library.materials[device.materials[0]], None, device.id, child=place % 2 == 0)
        left, top = place % COLUMNS * WIDE, place // COLUMNS * HIGH
        cells += f'<div style="position:absolute;left:{left}px;top:{top}px;width:{WIDE}px;height:{HIGH}px">{svg}</div>'
    size = COLUMNS * WIDE, -(-len(devices) // COLUMNS) * HIGH
    rules = f"@page{{size:{size[0]}px {size[1]}px;margin:0}}body{{margin:0}}svg{{display:block;width:{WIDE}px;height:{HIGH}px}}"
    html = f'<!doctype html><html lang="en"><head><title>x</title><style>{rules}</style></head><body>{cells}</body></html>'

    HTML(string=html).write_pdf(tmp_path / "page.pdf")
    subprocess.run(
        ("pdftoppm", "-r", "96", "-gray", "-png", "-singlefile", tmp_path / "page.pdf", tmp_path / "page"), check=True
    )
    page = browser.new_page(viewport={"width": size[0], "height": size[1]})
    page.set_content(html)
    shown = page.screenshot()
    page.close()

    one = Image.open(tmp_path / "page.png").convert("L").filter(ImageFilter.GaussianBlur(1.5))
    two = Image.open(io.BytesIO(shown)).convert("L").filter(ImageFilter.GaussianBlur(1.5))
    assert one.size == two.size == size
    different = ImageChops.difference(one, two)
    for place, device in enumerate(devices):
        left, top = place % COLUMNS * WIDE, place // COLUMNS * HIGH
        worst = different.crop((left, top, left + WIDE, top + HIGH)).getextrema()[1]
        assert worst <= MOST_GRAY, device.id

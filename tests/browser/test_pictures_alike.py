"""The print engine and a browser draw our pictures alike: two independent readings of the SVG specification."""

from __future__ import annotations

import io
import subprocess
from collections.abc import Sequence
from pathlib import Path

import numpy as np
from PIL import Image, ImageChops, ImageFilter
from playwright.sync_api import Browser
from weasyprint import HTML

from aftercare.library.catalogue import Library
from aftercare.page.phone_assets import asset
from aftercare.pictures import device_picture, inline_pictogram, pictogram_data_uri
from tests.phone_world import TEMPLATES

COLUMNS = 6
MOST_GRAY = 60  # of 255, after a blur that evens out how edges are smoothed; a missing line or fill gives 100 and more


def page_of(cells: Sequence[str], wide: int, high: int, style: str = "") -> tuple[str, tuple[int, int]]:
    """The HTML of a page with each cell in a box of its own, and the page's size in pixels."""
    boxes = "".join(
        f'<div style="position:absolute;left:{place % COLUMNS * wide}px;top:{place // COLUMNS * high}px;'
        f'width:{wide}px;height:{high}px">{cell}</div>'
        for place, cell in enumerate(cells)
    )
    size = COLUMNS * wide, -(-len(cells) // COLUMNS) * high
    rules = f"@page{{size:{size[0]}px {size[1]}px;margin:0}}body{{margin:0}}svg{{display:block;width:{wide}px;height:{high}px}}"
    head = f"<title>x</title><style>{style}{rules}</style>"
    return f'<!doctype html><html lang="en"><head>{head}</head><body>{boxes}</body></html>', size


def differences(browser: Browser, folder: Path, printed: tuple[str, tuple[int, int]], shown: str) -> Image.Image:
    """How far the printed page is from the one a browser shows, in gray after a blur."""
    html, size = printed
    HTML(string=html).write_pdf(folder / "page.pdf")
    command = ("pdftoppm", "-r", "96", "-gray", "-png", "-singlefile", folder / "page.pdf", folder / "page")
    subprocess.run(command, check=True)
    page = browser.new_page(viewport={"width": size[0], "height": size[1]})
    page.set_content(shown)
    screenshot = page.screenshot()
    page.close()

    paper, screen = (
        Image.open(source).convert("L").filter(ImageFilter.GaussianBlur(1.5))
        for source in (folder / "page.png", io.BytesIO(screenshot))
    )
    assert paper.size == screen.size == size
    return ImageChops.difference(paper, screen)


def worst(image: Image.Image, place: int, wide: int, high: int) -> int:
    """The largest difference in one box."""
    left, top = place % COLUMNS * wide, place // COLUMNS * high
    return int(np.asarray(image.crop((left, top, left + wide, top + high))).max())


def test_every_device_looks_the_same_on_paper_and_on_the_phone(browser: Browser, library: Library, tmp_path: Path) -> None:
    devices = list(library.devices.values())
    cells = [
        device_picture(device, library.materials[device.materials[0]], None, device.id, child=place % 2 == 0)
        for place, device in enumerate(devices)
    ]
    printed = page_of(cells, 240, 120)

    different = differences(browser, tmp_path, printed, printed[0])

    for place, device in enumerate(devices):
        assert worst(different, place, 240, 120) <= MOST_GRAY, device.id


def test_every_pictogram_looks_the_same_on_paper_and_on_the_phone(browser: Browser, library: Library, tmp_path: Path) -> None:
    style = "margin:0;height:128px;background:no-repeat 0 0/128px 128px url({})"
    uris = [pictogram_data_uri(svg, "#000000") for svg in library.pictograms.values()]
    printed = page_of([f'<p style="{style.format(uri)}"></p>' for uri in uris], 128, 128)
    # At 4 pixels a unit a stroke of 2.3 units instead of 2 gives 80, and a half circle as the print engine draws it 56.
    # The phone's own stylesheet gives the strokes; only its margin and its color of the text are set aside.
    rules = asset(TEMPLATES, "page.css") + "body{color:#000000;background:#ffffff;max-width:none;padding:0}.p{margin:0}"
    shown, _ = page_of([inline_pictogram(svg, "p") for svg in library.pictograms.values()], 128, 128, rules)

    different = differences(browser, tmp_path, printed, shown)

    for place, name in enumerate(library.pictograms):
        assert worst(different, place, 128, 128) <= MOST_GRAY, name

"""Lines and fills of the pictures keep the contrast WCAG 2.2 asks of graphics: success criterion 1.4.11, 3:1.

The formula is WCAG's relative luminance and contrast ratio; the first test checks it against published ratios.
"""

from __future__ import annotations

import pytest

from aftercare.pictures.style import CLOTH, INK, POINTER, SHELL, SHIRT, SKIN, STRAP, THREAD

GRAPHICS = 3.0  # WCAG 2.2, 1.4.11
WHITE, DARK_PAGE = "#ffffff", "#0e1c22"
FILLS = (SKIN, SHIRT, SHELL, CLOTH)


def luminance(color: str) -> float:
    """Relative luminance as WCAG 2.2 defines it."""
    parts = [int(color[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio as WCAG 2.2 defines it, 1 to 21."""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize(
    ("color", "ratio"),
    # Widely published ratios on white; #767676 is the lightest gray that passes 4.5:1, #949494 the lightest that passes 3:1.
    [
        *(
            ("#000000", 21.0),
            ("#777777", 4.478),
            ("#767676", 4.542),
            ("#595959", 7.005),
            ("#949494", 3.033),
            ("#959595", 2.995),
        ),
        *(("#ff0000", 3.998), ("#008000", 5.137), ("#0000ff", 8.592)),
    ],
)
def test_the_contrast_formula_gives_the_published_ratios(color: str, ratio: float) -> None:
    assert contrast(color, WHITE) == pytest.approx(ratio, abs=0.001)


@pytest.mark.parametrize("fill", [WHITE, *FILLS, STRAP])
def test_outlines_stand_out_from_every_fill_and_from_paper(fill: str) -> None:
    assert contrast(INK, fill) >= GRAPHICS


@pytest.mark.parametrize("fill", FILLS)
def test_fills_stand_out_from_a_dark_page(fill: str) -> None:
    assert contrast(fill, DARK_PAGE) >= GRAPHICS


@pytest.mark.parametrize("page", [WHITE, DARK_PAGE])
def test_arrows_stand_out_from_a_light_and_from_a_dark_page(page: str) -> None:
    assert contrast(POINTER, page) >= GRAPHICS


def test_threads_stand_out_from_the_shell() -> None:
    assert contrast(THREAD, SHELL) >= GRAPHICS

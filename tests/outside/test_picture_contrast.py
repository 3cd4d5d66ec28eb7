"""Tests of the contrast of lines and fills in pictures: WCAG 2.2, success criterion 1.4.11, requires 3:1 for graphics.

The formula is WCAG's relative luminance and contrast ratio; the first test checks it against published ratios.
"""

from __future__ import annotations

import pytest

from aftercare.pictures.style import CLOTH, INK, POINTER, SHELL, SHIRT, SKIN, STRAP, THREAD
from tests.contrast import contrast

GRAPHICS = 3.0  # WCAG 2.2, 1.4.11
WHITE, DARK_PAGE = "#ffffff", "#0e1c22"
FILLS = (SKIN, SHIRT, SHELL, CLOTH)


@pytest.mark.parametrize(
    ("color", "ratio"),
    # Widely published ratios on white, rounded to three decimals; #767676 is the lightest gray that passes 4.5:1, #949494 the
    # lightest that passes 3:1.
    [
        *(("#000", 21.0), ("#777", 4.478), ("#FF0000", 3.998)),
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
    assert contrast(color, WHITE) == pytest.approx(ratio, abs=0.0005)


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

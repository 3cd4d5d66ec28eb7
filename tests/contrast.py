"""Contrast of two colors, as WCAG 2.2 defines it."""

from __future__ import annotations


def luminance(color: str) -> float:
    """Relative luminance from 0, black, to 1, white. `color` is a CSS hex color of three or six digits."""
    digits = color.lstrip("#")
    digits = "".join(2 * digit for digit in digits) if len(digits) == 3 else digits
    channels = (int(digits[at : at + 2], 16) / 255 for at in (0, 2, 4))
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(color: str, other: str) -> float:
    """Contrast ratio from 1 to 21."""
    dark, light = sorted((luminance(color), luminance(other)))
    return (light + 0.05) / (dark + 0.05)

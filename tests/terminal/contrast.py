"""Contrast as WCAG 2.2 defines it, computed here and not by the library that is tested."""

from collections.abc import Iterator

from rich.color import ColorSystem

from faultkit.terminal.app import FaultkitApp
from faultkit.terminal.themes import CONTRAST, DARK, LIGHT, MONO

LEAST = {DARK: 4.5, LIGHT: 4.5, CONTRAST: 7.0, MONO: 7.0}
"""WCAG 2.2, success criteria 1.4.3 (4.5:1) and 1.4.6 (7:1)."""
LEAST_WITH_16_COLOURS = 3.0
"""What a terminal makes of 16 colours is its own; this keeps text apart from its ground."""

RGB = tuple[int, int, int]


def luminance(colour: RGB) -> float:
    """Relative luminance of an sRGB colour, in [0, 1]."""
    def linear(channel: int) -> float:
        share = channel / 255
        return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4

    red, green, blue = (linear(channel) for channel in colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: RGB, other: RGB) -> float:
    """Contrast ratio, 1 to 21."""
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def drawn(app: FaultkitApp) -> Iterator[tuple[str, float, float]]:
    """Every piece of text on the screen, its contrast, and its contrast in 16 colours."""
    for strip in app.screen._compositor.render_strips():
        for text, style, _ in strip:
            if not text.strip(" ·") or style is None or style.color is None:
                continue
            assert style.bgcolor is not None
            both = [style.color.get_truecolor(), style.bgcolor.get_truecolor()]
            few = [colour.downgrade(ColorSystem.STANDARD).get_truecolor()
                   for colour in (style.color, style.bgcolor)]
            yield text, contrast(*both), contrast(*few)


def poor(app: FaultkitApp) -> set[tuple[str, str, str]]:
    """Texts of the screen that do not stand out enough in the theme it is drawn in."""
    found = set()
    for text, full, few in drawn(app):
        if full < LEAST[app.theme]:
            found.add((app.theme, text.strip(), f"{full:.1f}"))
        if few < LEAST_WITH_16_COLOURS:
            found.add((app.theme, text.strip(), f"{few:.1f} in 16 colours"))
    return found

"""Themes of our own: dark, light, high contrast, and one without colour.

Every text token reaches 4.5:1 on every ground it stands on, 7:1 in the last two; a test
measures it on the drawn screens. State never hangs on colour alone.
"""

import os

from textual.theme import Theme

DARK, LIGHT = "faultkit-dark", "faultkit-light"
CONTRAST, MONO = "faultkit-contrast", "faultkit-mono"


def _theme(
    name: str, *, dark: bool, ground: str, raised: str, bar: str, text: str, quiet: str,
    lead: str, caution: str, danger: str, good: str, mark: str,
) -> Theme:
    """Fill every token that our screens and the library's widgets draw text with."""
    return Theme(
        name=name, dark=dark, background=ground, surface=raised, panel=bar, foreground=text,
        secondary=quiet, primary=lead, warning=caution, error=danger, success=good, accent=mark,
        luminosity_spread=0.0, text_alpha=1.0,
        variables={
            "text": text, "text-muted": quiet, "text-disabled": quiet,
            "foreground-muted": quiet, "foreground-disabled": quiet,
            "text-primary": lead, "text-secondary": quiet, "text-warning": caution,
            "text-error": danger, "text-success": good, "text-accent": mark,
            "border": lead, "border-blurred": quiet,
            "block-cursor-foreground": ground, "block-cursor-background": lead,
            "block-cursor-text-style": "bold",
            "block-cursor-blurred-foreground": text, "block-cursor-blurred-background": bar,
            "block-cursor-blurred-text-style": "none",
            "block-hover-background": bar,
            "input-cursor-background": text, "input-cursor-foreground": ground,
            "input-selection-background": lead, "input-selection-foreground": ground,
            "scrollbar": quiet, "scrollbar-hover": lead, "scrollbar-active": lead,
            "scrollbar-background": raised, "scrollbar-background-hover": raised,
            "scrollbar-background-active": raised, "scrollbar-corner-color": raised,
            "link-background-hover": lead, "link-color-hover": ground,
            "screen-selection-background": lead, "screen-selection-foreground": ground,
        },
    )


THEMES = (
    _theme(DARK, dark=True, ground="#12171c", raised="#1a2128", bar="#2a333d", text="#eceff1",
           quiet="#b3c0cc", lead="#f2b705", caution="#ffb86b", danger="#ff9a8f", good="#86d993",
           mark="#6fd3e8"),
    _theme(LIGHT, dark=False, ground="#fbfaf5", raised="#f2f0e8", bar="#dfdccf", text="#16181a",
           quiet="#47505a", lead="#6b4300", caution="#7a3300", danger="#96001a", good="#0f5320",
           mark="#004e63"),
    _theme(CONTRAST, dark=True, ground="#000000", raised="#000000", bar="#1c1c1c",
           text="#ffffff", quiet="#f0f0f0", lead="#ffd800", caution="#ffd800", danger="#ffb3ab",
           good="#8dffa6", mark="#7fe9ff"),
    _theme(MONO, dark=True, ground="#000000", raised="#000000", bar="#1c1c1c", text="#ffffff",
           quiet="#ffffff", lead="#ffffff", caution="#ffffff", danger="#ffffff", good="#ffffff",
           mark="#ffffff"),
)

NAMES = {"dark": DARK, "light": LIGHT, "contrast": CONTRAST, "mono": MONO}
"""What a person types after --theme."""


def theme_to_start_with(wanted: str | None) -> str:
    """The theme asked for; without a word, dark, or the one without colour under NO_COLOR."""
    if os.environ.get("NO_COLOR"):
        return MONO
    return NAMES.get(wanted or "", DARK)

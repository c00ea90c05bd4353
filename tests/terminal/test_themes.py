"""The tokens of our themes, each text token on each ground it may stand on."""

import pytest
from textual.color import Color
from textual.theme import Theme

from faultkit.terminal.themes import CONTRAST, MONO, THEMES
from tests.terminal.contrast import contrast

TEXT = ("foreground", "primary", "secondary", "accent", "warning", "error", "success",
        "text", "text-muted", "text-disabled", "text-primary", "text-secondary", "text-warning",
        "text-error", "text-success", "text-accent", "foreground-muted", "foreground-disabled",
        "block-cursor-blurred-foreground", "footer-foreground", "footer-key-foreground")
GROUNDS = ("background", "surface", "panel")
PAIRS = (("block-cursor-foreground", "block-cursor-background"),
         ("input-cursor-foreground", "input-cursor-background"),
         ("input-selection-foreground", "input-selection-background"),
         ("link-color-hover", "link-background-hover"),
         ("screen-selection-foreground", "screen-selection-background"))


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
def test_every_text_token_reaches_its_contrast_on_every_ground(theme: Theme) -> None:
    tokens = theme.to_color_system().generate()
    least = 7.0 if theme.name in (CONTRAST, MONO) else 4.5
    pairs = [*((text, ground) for text in TEXT for ground in GROUNDS), *PAIRS]
    poor = {pair: ratio for pair in pairs
            if (ratio := contrast(*(Color.parse(tokens[one]).rgb for one in pair))) < least}
    assert not poor


def test_the_theme_without_colour_has_only_greys() -> None:
    theme = next(theme for theme in THEMES if theme.name == MONO)
    for token in (theme.primary, theme.secondary, theme.accent, theme.warning, theme.error,
                  theme.success, theme.foreground, theme.background, theme.surface, theme.panel):
        assert token is not None
        red, green, blue = Color.parse(token).rgb
        assert red == green == blue

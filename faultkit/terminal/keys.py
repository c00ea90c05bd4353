"""Keys as one table a screen: it gives the bindings, the key bar, the help and the palette."""

from dataclasses import dataclass

from textual.binding import Binding, BindingType

SAFE = frozenset(
    "abcdefghijklmnopqrstuvwxyz0123456789"
) | {"enter", "escape", "space", "up", "down", "left", "right", "pageup", "pagedown", "home",
     "end", "tab", "shift+tab", "backspace", "delete", "slash", "colon", "f1", "ctrl+q", "ctrl+p",
     "ctrl+c"}
"""Keys that arrive on every terminal; Ctrl and F keys only as extras."""

SAME_PLACE = dict(zip(
    "йцукенгшщзфывапролдячсмитьςερτυθιοπασδφγηξκλζχψωβνμі",
    "qwertyuiopasdfghjklzxcvbnmwertyuiopasdfghjklzxcvbnms", strict=True,
))
"""Letters of Cyrillic and Greek layouts by the Latin letter on the same key."""


@dataclass(frozen=True, slots=True)
class Key:
    """One key of a screen."""

    key: str
    action: str
    words: str
    """One or two words for the key bar."""
    says: str
    """A sentence for help and palette."""
    bar: bool = False
    """True: belongs in the key bar."""

    @property
    def label(self) -> str:
        """The key as printed on the keyboard."""
        names = {"escape": "Esc", "enter": "Enter", "space": "Space", "slash": "/",
                 "down": "Down", "up": "Up", "pageup": "PgUp", "pagedown": "PgDn", "f1": "F1",
                 "ctrl+q": "Ctrl+Q", "ctrl+p": "Ctrl+P", "colon": ":"}
        return names.get(self.key, self.key)


def bindings(screen: str, keys: tuple[Key, ...]) -> list[BindingType]:
    """Bindings for a screen's table, each with an id of its own for a key map."""
    return [Binding(key.key, key.action, key.words, show=False,
                    id=f"{screen}.{key.action.split('(')[0]}.{key.key}") for key in keys]

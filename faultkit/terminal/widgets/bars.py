"""The line at the top, the line of keys at the bottom."""

from textual.content import Content, Span
from textual.style import Style

from faultkit.terminal.keys import Key
from faultkit.terminal.widgets.drawn import Drawn, cut, wrapped

MOST_WHEN_NARROW = 4
NARROW = 60


class TopBar(Drawn):
    """Where we are, and what goes on; below it what must stay in sight on every screen."""

    DEFAULT_CSS = "TopBar { height: auto; background: $panel; color: $foreground; padding: 0 1; }"

    def __init__(self, warning: str = "") -> None:
        super().__init__()
        self._left, self._right, self._warning = "", "", warning

    def show(self, left: str, right: str = "") -> None:
        """Set both ends."""
        self._left, self._right = left, right
        self.refresh()

    def warn(self, warning: str) -> None:
        """Keep a sentence in sight; an empty one takes no room."""
        if warning != self._warning:
            self._warning = warning
            self.refresh(layout=True)

    def lines(self, width: int, height: int) -> list[Content]:
        """One line, the left end cut first; then the warning, whole as far as three lines go."""
        right = cut(self._right, width, self.more)
        room = max(width - len(right) - 1, 0)
        left = cut(self._left, room, self.more)
        line = Content.assemble((left.ljust(room), "bold"), " ", (right, "bold $primary"))
        return [line, *(Content.styled(row, "bold $warning")
                        for row in (wrapped(f"! {self._warning}", width, 3, self.more)
                                    if self._warning else ()))]


class KeyBar(Drawn):
    """The most useful keys; as many as fit whole, never more than four on a narrow screen."""

    DEFAULT_CSS = """
    KeyBar { height: 1; dock: bottom; background: $panel; color: $foreground; padding: 0 1; }
    """

    def __init__(self, keys: tuple[Key, ...]) -> None:
        super().__init__()
        self._keys = tuple(key for key in keys if key.bar)

    def show(self, keys: tuple[Key, ...]) -> None:
        """Offer other keys."""
        self._keys = tuple(key for key in keys if key.bar)
        self.refresh()

    def lines(self, width: int, height: int) -> list[Content]:
        """One line. Help always has its place at the end."""
        *others, helps = self.fitting(width)
        parts: list[Content] = []
        for key in (*others, helps):
            text = Content.assemble((key.label, "bold"), " ", key.words)
            action = key.action if "." in key.action else f"screen.{key.action}"
            click = Style.from_meta({"@click": action})
            parts.append(Content(text.plain, [Span(0, len(text.plain), click), *text.spans]))
        return [Content("   ").join(parts)]

    def fitting(self, width: int) -> list[Key]:
        """Choose the keys that fit in `width` cells, in their order, help last."""
        helps = Key("f1", "app.explain", "help", "Explain this screen", bar=True)
        most = MOST_WHEN_NARROW if width <= NARROW else len(self._keys) + 1
        room = width - len(f"{helps.label} {helps.words}")
        chosen: list[Key] = []
        for key in self._keys:
            need = len(f"{key.label} {key.words}   ")
            if len(chosen) + 1 < most and need <= room:
                chosen.append(key)
                room -= need
        return [*chosen, helps]

"""Text that is neither markup nor a command to the terminal, wherever it comes from."""

from textual.content import Content
from textual.widgets import Static

from faultkit.vocabulary.says import harmless


def safe(content: Content) -> Content:
    """The same text with its styles, without signs that command a terminal."""
    text = content.plain
    return content if text.isprintable() else Content(harmless(text), list(content.spans))


class Says(Static):
    """A piece of text that is said; never markup."""

    def __init__(self, text: str = "", id: str | None = None) -> None:
        super().__init__(Content(harmless(text)), id=id, markup=False)

    def say(self, text: str, style: str = "") -> None:
        """Say something else."""
        self.update(Content.styled(harmless(text), style))

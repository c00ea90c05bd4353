"""A page as its parser sees it."""

import re
import xml.etree.ElementTree as ET
from html.parser import HTMLParser

VOID = frozenset({"meta", "col", "br", "hr", "img", "link", "input"})
ONE_LINE = re.compile(r"<svg.*?</svg>", re.DOTALL)


class Page(HTMLParser):
    """Tags with their attributes in order, the text, and whether everything was closed."""

    def __init__(self, source: str) -> None:
        super().__init__(convert_charrefs=True)
        self.source = source
        self.tags: list[tuple[str, tuple[tuple[str, str | None], ...]]] = []
        self.words: list[str] = []
        self.open: list[str] = []
        self.faults: list[str] = []
        self.feed(source)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, tuple(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if not self.open or self.open.pop() != tag:
            self.faults.append(f"</{tag}> at {self.getpos()}")

    def handle_data(self, data: str) -> None:
        if not self.open or self.open[-1] != "style":
            self.words.append(data)

    @property
    def text(self) -> str:
        """All text, on one line; a figure and its unit are joined by a common blank."""
        return " ".join("".join(self.words).replace("\u00a0", " ").split())

    @property
    def drawings(self) -> list[ET.Element]:
        """Every drawing, parsed as the XML that it is."""
        return [ET.fromstring(one) for one in ONE_LINE.findall(self.source)]  # noqa: S314 - ours

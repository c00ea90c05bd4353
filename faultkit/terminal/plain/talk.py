"""Asking and saying on a line, and what ends a conversation."""

import textwrap
from collections.abc import Callable, Sequence

from faultkit.terminal.wording.explain import Page

WIDTH = 78

Ask = Callable[[str], str]
"""Shows a prompt, gives a line; EOFError at the end of the input."""
Say = Callable[[str], None]


class Left(Exception):  # noqa: N818 - not an error: the person is done
    """The person left."""


class Talk:
    """Two ends of a line: what is said, what is answered."""

    def __init__(self, ask: Ask, say: Say) -> None:
        self._ask = ask
        self.say = say

    def ask(self, prompt: str) -> str:
        """Ask for a line. Raises Left when the person quits or the input ends."""
        try:
            answer = self._ask(prompt).strip()
        except EOFError as end:
            raise Left from end
        if answer.lower() in ("q", "quit"):
            raise Left
        return answer

    def tell(self, text: str, indent: str = "", head: str = "") -> None:
        """Say a text, folded; what does not fit its first line stands under the text."""
        for row in textwrap.wrap(text, WIDTH, initial_indent=indent + head,
                                 subsequent_indent=" " * len(indent + head)) or [""]:
            self.say(row)

    def page(self, page: Page) -> None:
        """Say headings and lines."""
        for heading, lines in page:
            self.say("")
            self.tell(heading + ":")
            for line in lines:
                self.tell(line, "  ")

    def choose(self, question: str, rows: Sequence[str]) -> int | None:
        """Ask for one of some numbered rows; its index, or None for 0 or an empty line."""
        for number, row in enumerate(rows, 1):
            self.tell(row, f"{number:>3}  ")
        self.say("  0  back")
        while True:
            answer = self.ask(question)
            if answer in ("", "0"):
                return None
            if answer.isdecimal() and 1 <= int(answer) <= len(rows):
                return int(answer) - 1
            self.say(f"Type a number from 0 to {len(rows)}.")

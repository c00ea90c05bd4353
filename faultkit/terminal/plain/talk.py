"""Asking and saying on a line, and what ends a conversation."""

import textwrap
from collections.abc import Callable, Sequence

from faultkit.terminal.wording.explain import Page
from faultkit.vocabulary.says import harmless

WIDTH = 78
YES, NO = ("y", "yes", "1"), ("n", "no", "0")
LEAVES = "q leaves; the job is kept."

Ask = Callable[[str], str]
"""Shows a prompt, gives a line; EOFError at the end of the input."""
Say = Callable[[str], None]


class Left(Exception):  # noqa: N818 - not an error: the person is done
    """The person left."""


class Ended(BaseException):
    """A signal ends the program: its window was closed, or the computer goes down.

    Not an Exception, so that nothing on the way takes it for a mistake.
    """

    def __init__(self, number: int) -> None:
        super().__init__(number)
        self.code = 128 + number


class Talk:
    """Two ends of a line: what is said, what is answered."""

    def __init__(self, ask: Ask, say: Say) -> None:
        self._ask = ask
        self._say = say

    def say(self, text: str) -> None:
        """Say one line; signs that would move a cursor or turn the writing are replaced."""
        self._say(harmless(text))

    def ask(self, prompt: str, can: str = "") -> str:
        """Ask for a line, and tell what can be typed as often as that is asked.

        Raises Left when the person quits or the input ends.
        """
        while True:
            try:
                answer = harmless(self._ask(prompt)).strip()
            except EOFError as end:
                raise Left from end
            if answer.lower() in ("q", "quit"):
                raise Left
            if not can or answer.lower() not in ("?", "help"):
                return answer
            self.tell(f"{can} {LEAVES}", "i ")

    def sure(self, question: str, can: str, *, usual: bool | None = None) -> bool:
        """Ask for yes or no; an empty line is the usual answer, where there is one."""
        choice = {True: "Y/n", False: "y/N", None: "y/n"}[usual]
        while True:
            answer = self.ask(f"{question} ({choice}) ", can).lower()
            if answer in YES:
                return True
            if answer in NO:
                return False
            if not answer and usual is not None:
                return usual
            self.say("Type y for yes or n for no; ? says more.")

    def tell(self, text: str, indent: str = "", head: str = "") -> None:
        """Say a text, folded; what does not fit its first line stands under the text."""
        for row in textwrap.wrap(harmless(text), WIDTH, initial_indent=indent + head,
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
            answer = self.ask(question, "The number of one row; 0 or an empty line goes back.")
            if answer in ("", "0"):
                return None
            if answer.isdecimal() and 1 <= int(answer) <= len(rows):
                return int(answer) - 1
            self.say(f"Type a number from 0 to {len(rows)}.")

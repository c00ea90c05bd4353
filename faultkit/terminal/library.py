"""What the screens are handed by the commands: machines to choose from, and how to open one."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

from faultkit.terminal.desk import Engine


@dataclass(frozen=True, slots=True)
class Offer:
    """A machine that can be opened."""

    name: str
    """What to hand to `Library.open`: a bundled name or a path."""
    title: str
    says: str


class Library(Protocol):
    """Machines, without a word on where they come from."""

    def offers(self) -> tuple[Offer, ...]:
        """List what can be opened."""
        ...

    def open(self, name: str, say: Callable[[str], None]) -> Engine:
        """Load a machine and see to what it needs computed; FaultkitError where it cannot.

        `say` is called with a short sentence whenever a longer piece of work begins.
        """
        ...

    def close(self) -> None:
        """Let go of work that still goes on in the background."""
        ...

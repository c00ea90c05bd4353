"""One family of errors: each has a title and says what to do.

An error here is something a person can put right: a wrong name, a file that cannot be read,
a network that cannot be solved. Mistakes of the program itself stay ordinary exceptions.
"""


class FaultkitError(Exception):
    """Base of everything a user can cause.

    Parameters
    ----------
    title : str
        One clear sentence: what is wrong, with file, line and column where there is one.
    way_out : str
        What to do about it; empty where the title says it all.
    """

    def __init__(self, title: str, way_out: str = "") -> None:
        super().__init__(title)
        self.title = title
        self.way_out = way_out

    def __str__(self) -> str:
        return f"{self.title} {self.way_out}".strip()


class UsageError(FaultkitError):
    """A name, option or value that does not exist or does not fit."""


class FileError(FaultkitError):
    """A file or folder that cannot be read or written."""


class KnowledgeError(FaultkitError):
    """A machine that does not load: its problems have been listed."""


class CircuitError(FaultkitError):
    """A network that cannot be solved, in the words of an electrician."""


class ReadingError(FaultkitError):
    """A typed reading that cannot be understood or is not possible."""


class QuantityError(FaultkitError):
    """A quantity in a knowledge file that cannot be understood."""


class JournalError(FaultkitError):
    """A job that cannot be kept or found, or a store that cannot be used."""

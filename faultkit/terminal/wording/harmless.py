"""Text of people and files, made fit for a terminal."""


def harmless(text: str) -> str:
    """Put ? for every sign that commands a terminal or turns the direction of writing.

    Each sign stands for one sign, so places in the text stay where they are.
    """
    return "".join(c if c.isprintable() or c in "\n\xa0" else " " if c.isspace() else "?"
                   for c in text)


def on_one_line(text: str) -> str:
    """Text of a person for a place that has one line."""
    return " ".join(harmless(text).split())

"""Words and figures as a person reads them, the same on screens, on lines and on paper."""

from faultkit.vocabulary.machine import Machine


def harmless(text: str) -> str:
    """Put ? for every sign that commands a terminal or turns the direction of writing.

    Each sign stands for one sign, so places in the text stay where they are.
    """
    return "".join(c if c.isprintable() or c in "\n\xa0" else " " if c.isspace() else "?"
                   for c in text)


def on_one_line(text: str) -> str:
    """Text of a person for a place that has one line."""
    return " ".join(harmless(text).split())


def percent(share: float) -> str:
    """A probability as whole percent, at least told apart from never and always."""
    if 0 < share < 0.005:
        return "<1 %"
    if 0.995 <= share < 1:
        return ">99 %"
    return f"{share * 100:.0f} %"


def with_device(device: str, says: str) -> str:
    """Put the designation before the words where they do not name it themselves."""
    return says if not device or device in says else f"{device} {says}"


def cause_says(machine: Machine, cause: str) -> str:
    """One or more causes in words; pairs are joined by `and`."""
    parts = []
    for one in cause.split(" + "):
        known = machine.causes.get(one)
        parts.append(with_device(known.device, known.says) if known else one)
    return " and ".join(parts)

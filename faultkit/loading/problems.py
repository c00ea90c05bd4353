"""What is wrong with a knowledge file: data, collected in one run, never an exception."""

import difflib
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Literal

from faultkit.vocabulary.origin import Origin

Severity = Literal["error", "warning"]


NEEDS_EVERYTHING = frozenset({
    "no-machine", "unused-remedy", "core-without-hop", "unknown-place", "unknown-setting",
    "unknown-condition", "unknown-device", "unknown-wire", "unknown-symptom", "unknown-test",
    "unknown-remedy", "unknown-pin", "unknown-contact", "no-symptom-path", "nothing-to-find",
    "missing-key", "no-such-hop", "place-tree"})
"""Rules that say something only when all files could be composed."""


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """One thing to put right. Line and column are 0 where only the file is known."""

    origin: Origin
    rule: str
    severity: Severity
    says: str
    way_out: str = ""


@dataclass(slots=True)
class Report:
    """Collects problems, each once."""

    found: set[Problem] = field(default_factory=set)
    partial: bool = False
    """True once a part of a file could not be composed: then nothing can be said to be absent."""

    def error(self, origin: Origin, rule: str, says: str, way_out: str = "") -> None:
        """Note what keeps the machine from loading."""
        if self.partial and rule in NEEDS_EVERYTHING:
            return
        self.found.add(Problem(origin, rule, "error", says, way_out))

    def warn(self, origin: Origin, rule: str, says: str, way_out: str = "") -> None:
        """Note what is probably not meant."""
        if self.partial and rule in NEEDS_EVERYTHING:
            return
        self.found.add(Problem(origin, rule, "warning", says, way_out))

    def problems(self) -> tuple[Problem, ...]:
        """All of them, in the order of the files."""
        return tuple(sorted(self.found))


def listed(words: Iterable[str], last: str = "or") -> str:
    """`a, b or c`, shortened where there are many."""
    texts = list(words)
    if len(texts) > 12:
        return ", ".join(texts[:12]) + " ..."
    return f"{', '.join(texts[:-1])} {last} {texts[-1]}" if len(texts) > 1 else "".join(texts)


def near_miss(word: str, known: Iterable[str]) -> str:
    """The known word that was probably meant, or nothing."""
    choices = list(known)
    folded = {choice.casefold(): choice for choice in reversed(choices)}
    if word.casefold() in folded:
        return folded[word.casefold()]
    close = difflib.get_close_matches(word, choices, n=1, cutoff=0.7)
    return close[0] if close else ""


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """Way out for an unknown word: the near miss, or what there is."""
    choices = list(known)
    meant = near_miss(word, choices)
    if meant:
        return f"Did you mean {meant!r}?"
    return f"Known: {listed(choices, 'and')}." if choices else ""

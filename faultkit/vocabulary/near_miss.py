"""What was probably meant: near misses of ids and words, and lists of what there is."""

import difflib
from collections.abc import Iterable


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

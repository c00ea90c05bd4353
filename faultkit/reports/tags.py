"""The few tags that every part of the page is made of."""

import re
from collections.abc import Iterable, Sequence
from html import escape

from faultkit.reports.records import Fact

NAMES = re.compile(r"(?<![\w&;])-[A-Z][\w.]*(?::[\w.]+)?(?:-\d[\w.]*)?")
FIGURES = re.compile(r"(?<=\d) (?=(?:%|[kMGmu]?(?:V|A|Ω|Hz|s|min|mm)\b)|%)")


def own(text: str) -> str:
    """Text that may be a stranger's, kept apart from what stands around it.

    A line never breaks inside `-Q3:21-22`, nor between a figure and its unit.
    """
    whole = FIGURES.sub("\u00a0", escape(text))
    return f"<bdi>{NAMES.sub(_whole, whole)}</bdi>"


def _whole(found: re.Match[str]) -> str:
    return f'<span class="name">{found.group()}</span>'


def section(title: str, content: str) -> str:
    """A headed section; nothing where it would be empty."""
    return f"<section><h2>{escape(title)}</h2>{content}</section>" if content else ""


def items(texts: Iterable[str]) -> str:
    """A list; nothing where it would be empty."""
    rows = "".join(f"<li>{own(one)}</li>" for one in texts)
    return f"<ul>{rows}</ul>" if rows else ""


def facts_list(facts: Sequence[Fact], kind: str = "facts") -> str:
    """Labels and what is said under them; nothing where there are none."""
    rows = "".join(f"<dt>{escape(label)}</dt><dd>{own(text)}</dd>" for label, text in facts)
    return f'<dl class="{kind}">{rows}</dl>' if rows else ""


def table(heads: Sequence[tuple[str, str]], rows: Iterable[str]) -> str:
    """A table whose head is repeated on every page.

    Parameters
    ----------
    heads
        Title and width of each column.
    rows
        Whole rows, made by `row` or by hand.
    """
    columns = "".join(f'<col style="width:{width}">' for _, width in heads)
    titles = "".join(f'<th scope="col">{escape(title)}</th>' for title, _ in heads)
    return (f"<table><colgroup>{columns}</colgroup><thead><tr>{titles}</tr></thead>"
            f"<tbody>{''.join(rows)}</tbody></table>")


def row(cells: Iterable[str]) -> str:
    """A row of cells that are HTML already."""
    return f"<tr>{''.join(f'<td>{cell}</td>' for cell in cells)}</tr>"


def fine(text: str) -> str:
    """A line in small print; nothing for nothing."""
    return f'<div class="fine">{own(text)}</div>' if text else ""

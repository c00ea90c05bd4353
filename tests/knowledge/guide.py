"""The tables of the guide, made from the tables that code and checks read.

python -m tests.knowledge.guide       writes them anew into knowledge/README.md
"""

from pathlib import Path

from faultkit.vocabulary.kinds import KINDS, Kind

GUIDE = Path(__file__).resolve().parents[2] / "knowledge" / "README.md"
HEADING = "## The kinds of device\n"


def kind_section(kind: Kind) -> str:
    """One kind: what it is, its attributes, its ways to fail."""
    lines = [f"### `{kind.name}`", "", f"{kind.says}."]
    if kind.shows:
        lines[-1] += f" A look at it shows: {', '.join(kind.shows)}."
    if kind.attributes:
        lines += ["", "| attribute | unit | default | meaning |", "|---|---|---|---|"]
        lines += [f"| `{a.name}` | {a.unit} | {default_of(a.default)} | {a.says} |"
                  for a in kind.attributes]
    if kind.modes:
        modes = "; ".join(f"`{mode.key}` {mode.says}" for mode in kind.modes)
        lines += ["", f"Ways to fail: {modes}."]
    return "\n".join([*lines, ""])


def default_of(value: float | str | None) -> str:
    """A default as it would be written."""
    if value is None:
        return "*none*"
    if isinstance(value, str):
        return f"`{value}`" if value else "empty"
    return f"{value:g}"


def tables() -> str:
    """The sections of all kinds."""
    return "\n".join(kind_section(kind) for kind in KINDS.values())


def split(text: str) -> tuple[str, str]:
    """The guide up to its tables, and the tables."""
    head, heading, rest = text.partition(HEADING)
    assert heading, f"the guide lacks {HEADING!r}"
    introduction, mark, body = rest.partition("### ")
    return head + heading + introduction, mark + body


def main() -> None:
    """Write the tables anew."""
    head, _ = split(GUIDE.read_text(encoding="utf-8"))
    GUIDE.write_text(head + tables(), encoding="utf-8")


if __name__ == "__main__":
    main()

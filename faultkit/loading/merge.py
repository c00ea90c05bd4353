"""Merges the roots of all files of a machine into one draft."""

from faultkit.loading.draft import SECTIONS, Draft
from faultkit.loading.problems import Report
from faultkit.loading.tree import Mapping, Node, Scalar, called
from faultkit.vocabulary.near_miss import did_you_mean
from faultkit.vocabulary.origin import Origin

HEADER = ("machine", "says", "version", "supply", "unknown", "cautions")
KNOWN = (*HEADER, *SECTIONS)


def merge(roots: list[tuple[str, Node | None]], whole: Origin, report: Report,
          ) -> tuple[Draft, Mapping]:
    """Draft with all sections, and the header as one mapping.

    `roots` are (file, root) in the order of the file names; `whole` names the folder or file.
    """
    draft = Draft(report)
    header: dict[str, tuple[Scalar, Node]] = {}
    for file, root in roots:
        if root is None:
            continue
        if not isinstance(root, Mapping):
            report.error(root.origin, "wrong-shape",
                         f"The file begins with {called(root)}; it must hold sections.",
                         f"Begin with a line such as 'machine: ...' or 'devices:' in {file}.")
            continue
        for key, value in root.entries:
            if key.text in SECTIONS:
                _section(draft, key, value)
            elif key.text in HEADER:
                _once(header, key, value, report)
            else:
                report.error(key.origin, "unknown-key", f"There is no section {key.text!r}.",
                             did_you_mean(key.text, KNOWN))
    if "machine" not in header:
        report.error(whole, "no-machine", "No file says 'machine: ...'.",
                     "Write the title of the machine into one file, as 'machine: Title'.")
    return draft, Mapping(tuple(header.values()), whole)


def _section(draft: Draft, key: Scalar, value: Node) -> None:
    """Add the records of one section of one file."""
    if isinstance(value, Scalar) and not value.text and value.plain:
        draft.report.warn(key.origin, "empty-section", f"The section {key.text!r} is empty.",
                          "Fill it or delete the line.")
        return
    if not isinstance(value, Mapping):
        draft.report.error(value.origin, "wrong-shape",
                           f"The section {key.text!r} is {called(value)}; it must be a mapping.",
                           "Write each record as 'id: {...}', without a list dash.")
        return
    records = draft.raw[key.text]
    for name, body in value.entries:
        first = records.get(name.text)
        if first is not None:
            draft.report.error(name.origin, "duplicate-id",
                               f"{name.text!r} stands in {key.text} for the second time; "
                               f"the first is at {first[0].origin}.",
                               "Rename or delete one of the two.")
            continue
        records[name.text] = (name, body)


def _once(header: dict[str, tuple[Scalar, Node]], key: Scalar, value: Node,
          report: Report) -> None:
    first = header.get(key.text)
    if first is None:
        header[key.text] = (key, value)
        return
    report.error(key.origin, "duplicate-id",
                 f"{key.text!r} is written for the second time; the first is at "
                 f"{first[0].origin}.", "Keep it in one file only.")

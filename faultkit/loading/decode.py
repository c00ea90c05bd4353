"""From the bytes of a file to text that the YAML scanner can take."""

import codecs
import re

from faultkit.loading.problems import Report
from faultkit.vocabulary.origin import Origin

LARGEST = 1_000_000
"""Bytes a file; the largest machine is about a tenth of it."""

ALTOGETHER = 4_000_000
"""Bytes of all files of one machine."""

CONTROL = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ufffe\uffff\ud800-\udfff]")
"""Signs that no text may hold: a terminal would obey them instead of showing them."""
_LINE_END = re.compile("\r\n?")


def decode(data: bytes, file: str, report: Report) -> str | None:
    """Text of a file with plain line ends, or None where it cannot be told.

    Signs that cannot stand in a knowledge file are reported and replaced by a blank, so that
    the rest can be checked in the same run. None also where tabs indent: nobody can tell how
    far.
    """
    if len(data) > LARGEST:
        report.error(Origin(file, 0, 0), "too-large",
                     f"The file has {len(data)} bytes; at most {LARGEST} are loaded.",
                     "Split the machine into several files in one folder.")
        return None
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)) or b"\0" in data[:4]:
        report.error(Origin(file, 1, 1), "encoding", "The file is saved as UTF-16 or UTF-32.",
                     "Save it as UTF-8.")
        return None
    data = data.removeprefix(codecs.BOM_UTF8)
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        before = _LINE_END.sub("\n", data[: error.start].decode("utf-8"))
        line = before.count("\n") + 1
        column = len(before) - (before.rfind("\n") + 1) + 1
        report.error(Origin(file, line, column), "encoding",
                     f"The byte 0x{data[error.start]:02X} is not UTF-8.",
                     "Save the file as UTF-8 in the editor.")
        return None
    return _clean(_LINE_END.sub("\n", text), file, report)


def _clean(text: str, file: str, report: Report) -> str | None:
    if CONTROL.search(text):
        for number, row in enumerate(text.split("\n"), start=1):
            for match in CONTROL.finditer(row):
                report.error(Origin(file, number, match.start() + 1), "control-character",
                             f"The invisible character U+{ord(match.group()):04X} stands here.",
                             "Delete it.")
        text = CONTROL.sub(" ", text)
    if "\t" not in text:
        return text
    indented = False
    for number, row in enumerate(text.split("\n"), start=1):
        column = row.find("\t")
        if column < 0 or _in_comment(row[:column]):
            continue
        indented = indented or not row[:column].strip()
        report.error(Origin(file, number, column + 1), "tab", "A tab stands here.",
                     "Use blanks: YAML forbids tabs in indents.")
    return None if indented else text.replace("\t", " ")


def _in_comment(before: str) -> bool:
    return before.lstrip().startswith("#") or " #" in before

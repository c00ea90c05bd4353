"""The door of the room: a path in, a machine or its problems out."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from faultkit.errors import FileError
from faultkit.loading.build import build
from faultkit.loading.compose import YamlLoader, compose
from faultkit.loading.decode import ALTOGETHER, decode
from faultkit.loading.find import digest_of, machine_files
from faultkit.loading.merge import merge
from faultkit.loading.problems import Problem, Report
from faultkit.loading.recover import recover
from faultkit.loading.tree import Node, Scalar
from faultkit.vocabulary.machine import Machine
from faultkit.vocabulary.origin import Origin


@dataclass(frozen=True, slots=True)
class Loaded:
    """What came of loading: the machine is None if any problem is an error."""

    machine: Machine | None
    problems: tuple[Problem, ...]
    sources: Mapping[str, tuple[str, ...]] = field(default_factory=dict, compare=False)
    """File -> its lines, for showing a problem where it stands."""


def load(path: Path) -> Loaded:
    """Load the machine in a folder of YAML files or in one file.

    Raises
    ------
    FileError
        If the path does not exist, holds no YAML, or cannot be read.
    """
    contents = []
    for file in machine_files(path):
        try:
            contents.append((str(file), file.read_bytes()))
        except OSError as error:
            raise FileError(f"{str(file)!r} cannot be read: {error.strerror}.",
                            "Check the file and your rights.") from error
    name = path.resolve().name
    return load_texts(contents, str(path), name if path.is_dir() else path.stem)


def load_texts(contents: list[tuple[str, bytes]], whole: str, name: str,
               loader: YamlLoader | None = None) -> Loaded:
    """Load a machine from (file, bytes) pairs.

    `whole` is the path that a problem of the machine as a whole is shown under, `name` the id
    of the machine, `loader` a PyYAML loader class instead of the fastest there is.
    """
    report = Report()
    sources: dict[str, tuple[str, ...]] = {}
    roots: list[tuple[str, Node | None]] = []
    if sum(len(data) for _, data in contents) > ALTOGETHER:
        report.error(Origin(whole, 0, 0), "too-large",
                     f"All files together have more than {ALTOGETHER} bytes.",
                     "Load one machine at a time.")
        return Loaded(None, report.problems())
    for file, data in contents:
        roots.append((file, _root(file, data, sources, report, loader)))
    draft, header = merge(roots, Origin(whole, 0, 0), report)
    digest = digest_of([(Path(file).name, data) for file, data in contents])
    machine = build(draft, header, name, digest)
    problems = report.problems()
    faulty = any(problem.severity == "error" for problem in problems)
    return Loaded(None if faulty else machine, problems, sources)


def _root(file: str, data: bytes, sources: dict[str, tuple[str, ...]], report: Report,
          loader: YamlLoader | None) -> Node | None:
    """Root of one file, or of what can be composed of it."""
    text = decode(data, file, report)
    if text is None:
        report.partial = True
        return None
    sources[file] = tuple(text.split("\n"))
    own = Report()
    root = compose(text, file, own, loader)
    hollow = isinstance(root, Scalar) and root.plain and not root.text
    if hollow or (root is None and not own.found):
        report.error(Origin(file, 1, 1), "empty-file", "The file is empty.",
                     "Write a section into it, or delete it.")
        return None
    if root is None:
        report.partial = True
        pieces = Report()
        root = recover(text, file, pieces, loader)
        own = pieces if any(found.severity == "error" for found in pieces.found) else own
    report.found |= own.found
    return root

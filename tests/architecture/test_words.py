"""What may stand in the repository: names at the top, no traces of one machine, docstrings."""

import ast
import re
import tomllib

from tests.architecture.house import PACKAGE, ROOT, files

TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "faultkit", "knowledge", "tests"}
LEFT_BY_TOOLS = {"PKG-INFO", "build", "dist", "htmlcov", "uv.lock"}
"""Never committed (.gitignore), or added by packaging."""

TRACES = {
    # the patterns are put together, so that this file does not hold what it looks for
    "a path of one machine": r"(?<![\w.])/" + r"(?:work|root|home|opt|tmp)/\w",
    "an address on the network": "http" + r"s?://(?!json-schema\.org/)",
    "something left to do": r"\b(?:TO" + "DO|FIX" + "ME|XX" + r"X)\b",
    "a word about how it was made": r"(?i)\b(?:" + "source " + "document|design" + r"\.md|"
                                    + "iss" + r"ue #?\d)",
}


def texts() -> dict[str, str]:
    """Every text file of the repository, by its path."""
    inside = files("faultkit", "knowledge", "tests", endings=(
        ".py", ".md", ".yaml", ".yml", ".tcss", ".toml", ".txt", ".cir", ".json"))
    top = [ROOT / name for name in ("README.md", "DEVELOPERS.md", "pyproject.toml", ".gitignore")]
    found = {str(p.relative_to(ROOT)): p.read_text(encoding="utf-8") for p in (*inside, *top)}
    found[".ci/run"] = (ROOT / ".ci/run").read_text(encoding="utf-8")
    return found


def test_the_top_level_holds_exactly_what_the_plan_says() -> None:
    names = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}
    assert names - LEFT_BY_TOOLS == TOP


def test_no_text_tells_of_the_machine_or_the_way_it_was_written_on() -> None:
    found = [
        f"{name}:{text.count(chr(10), 0, match.start()) + 1}: {what}: {match.group()}"
        for name, text in texts().items()
        for what, pattern in TRACES.items()
        for match in re.finditer(pattern, text)
    ]
    assert found == []


def test_no_name_of_a_file_is_written_in_capitals_or_with_blanks() -> None:
    odd = [str(path.relative_to(ROOT)) for path in PACKAGE.rglob("*.py")
           if not re.fullmatch(r"[a-z0-9_]+", path.stem)]
    assert odd == []


def test_everything_public_says_what_it_is() -> None:
    silent = []
    for path in sorted(PACKAGE.rglob("*.py")):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        bodies: list[ast.Module | ast.ClassDef] = [tree]
        bodies += [node for node in tree.body
                   if isinstance(node, ast.ClassDef) and not node.name.startswith("_")]
        public = [
            node for body in bodies for node in body.body
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef)
            and not node.name.startswith("_")
        ]
        silent += [f"{path.relative_to(ROOT)}:{node.lineno} {node.name}" for node in public
                   if ast.get_docstring(node) is None]
        if ast.get_docstring(tree) is None:
            silent.append(str(path.relative_to(ROOT)))
    assert silent == []


def test_the_readme_has_one_test_command_which_is_the_one_ci_runs() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    wanted = re.search(r"grep -m 1 -E '([^']+)' README\.md", texts()[".ci/run"])
    assert wanted is not None
    lines = [line for line in readme.splitlines() if re.match(wanted.group(1), line)]
    assert len(lines) == 1


def test_every_dependency_has_a_lower_and_an_upper_bound_and_a_reason() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    reasons = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    for requirement in project["dependencies"]:
        match = re.fullmatch(r"([a-z]+)>=[\d.]+,<\d+", requirement)
        assert match is not None, requirement
        assert re.search(rf"(?m)^\| `?{match.group(1)}`? \|", reasons), match.group(1)

"""Small files, small functions: what does not fit on a few screens is more than one thing."""

import ast

from tests.architecture.house import ROOT, files, functions, sources

FILE_LINES = 400
FUNCTION_LINES = 60


def test_no_file_is_longer_than_400_lines() -> None:
    paths = files("faultkit", "tests", endings=(".py", ".tcss"))
    counts = {str(p.relative_to(ROOT)): len(p.read_text(encoding="utf-8").splitlines())
              for p in paths}
    assert counts
    assert {name: n for name, n in counts.items() if n > FILE_LINES} == {}


def test_no_function_is_longer_than_60_lines() -> None:
    long = {}
    for path in sources():
        for function in functions(ast.parse(path.read_text(encoding="utf-8"))):
            assert function.end_lineno is not None
            lines = function.end_lineno - function.lineno + 1
            if lines > FUNCTION_LINES:
                long[f"{path.relative_to(ROOT)}:{function.lineno} {function.name}"] = lines
    assert long == {}

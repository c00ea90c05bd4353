"""How problems are shown."""

import json

from faultkit.loading.problem_text import as_github, as_json, as_text
from faultkit.loading.problems import Problem
from faultkit.vocabulary.origin import Origin
from tests.loading.helper import BASE, loaded

ERROR = Problem(Origin("b.yaml", 2, 9), "unknown-key", "error", "No field 'x'.",
                "Did you mean 'y'?")
WARNING = Problem(Origin("a.yaml", 0, 0), "unused", "warning", "50 % is: not, used.", "")


def test_text_shows_the_line_a_caret_and_the_way_out() -> None:
    assert as_text([ERROR], {"b.yaml": ("devices:", "  -K1: {xind: relay}")}) == """\
b.yaml:2:9: error: No field 'x'. [unknown-key]
      2 |   -K1: {xind: relay}
        |         ^
    Did you mean 'y'?

1 error in 1 file.
"""


def test_a_problem_without_a_position_shows_no_invented_one() -> None:
    assert as_text([WARNING], {"a.yaml": ("x",)}).startswith("a.yaml: warning: 50 % is")


def test_the_caret_stands_under_the_fault_even_in_a_very_long_line() -> None:
    row = "x" * 500 + "!" + "y" * 500
    shown = as_text([Problem(Origin("f", 1, 501), "r", "error", "s")], {"f": (row,)}).split("\n")
    assert shown[1][shown[2].index("^")] == "!"
    assert len(shown[1]) < 120


def test_the_caret_allows_for_signs_of_double_width() -> None:
    shown = as_text([Problem(Origin("f", 1, 3), "r", "error", "s")], {"f": ("日本!",)}).split("\n")
    assert shown[2].index("^") == shown[1].index("日") + 4


def test_no_problem_is_said_in_words() -> None:
    assert as_text([], {}) == "No problems.\n"


def test_json_has_a_version_counts_and_null_for_an_unknown_position() -> None:
    document = json.loads(as_json([WARNING, ERROR]))
    assert (document["schema_version"], document["errors"], document["warnings"]) == (1, 1, 1)
    assert [row["line"] for row in document["problems"]] == [None, 2]
    assert document["problems"][1] == {
        "file": "b.yaml", "line": 2, "column": 9, "severity": "error", "rule": "unknown-key",
        "says": "No field 'x'.", "way_out": "Did you mean 'y'?"}


def test_annotations_put_errors_first_escape_and_end_with_a_total() -> None:
    assert as_github([WARNING, ERROR]) == (
        "::error file=b.yaml,line=2,col=9,title=unknown-key::No field 'x'. Did you mean 'y'?\n"
        "::warning file=a.yaml,title=unused::50 %25 is: not, used.\n"
        "1 error and 1 warning in 2 files.\n")


def test_problems_come_in_the_order_of_files_and_lines() -> None:
    spoilt = BASE.replace("kind: brake", "kind: brak").replace("rests: middle", "rests: midle")
    origins = [problem.origin for problem in loaded(spoilt, "remedis: {}\n").problems]
    assert origins == sorted(origins)
    assert len(origins) > 2


def test_every_problem_of_a_real_file_can_be_shown_in_every_form() -> None:
    result = loaded(BASE.replace("kind: brake", "kind: brak"))
    for problem in result.problems:
        assert problem.says.endswith((".", "?", "%"))
        assert problem.way_out
    assert "^" in as_text(result.problems, result.sources)

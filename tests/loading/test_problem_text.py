"""How problems are shown."""

from faultkit.loading.problem_text import as_data, as_github, as_text, total
from faultkit.loading.problems import Problem
from faultkit.vocabulary.origin import Origin
from tests.loading.helper import BASE, loaded

ERROR = Problem(Origin("b.yaml", 2, 9), "unknown-key", "error", "No field 'x'.",
                "Did you mean 'y'?")
WARNING = Problem(Origin("a.yaml", 0, 0), "unused", "warning", "50 % is: not, used.", "")


def test_text_shows_the_line_a_caret_and_the_way_out() -> None:
    assert as_text([ERROR], {"b.yaml": ("devices:", "  -K1: {xind: relay}")}) == """\
b.yaml:2:9: error unknown-key: No field 'x'.
      -K1: {xind: relay}
            ^
    Did you mean 'y'?"""


def test_a_problem_without_a_position_shows_no_invented_one() -> None:
    assert as_text([WARNING], {"a.yaml": ("x",)}).startswith("a.yaml: warning unused: 50 % is")


def test_the_caret_stands_under_the_fault_even_in_a_very_long_line() -> None:
    row = "x" * 500 + "!" + "y" * 500
    shown = as_text([Problem(Origin("f", 1, 501), "r", "error", "s")], {"f": (row,)}).split("\n")
    assert shown[1][shown[2].index("^")] == "!"
    assert len(shown[1]) < 120


def test_the_caret_allows_for_signs_of_double_width() -> None:
    shown = as_text([Problem(Origin("f", 1, 3), "r", "error", "s")], {"f": ("日本!",)}).split("\n")
    assert shown[2].index("^") == shown[1].index("日") + 4


def test_no_problem_is_said_in_words() -> None:
    assert total([]) == "No problems."
    assert as_text([], {}) == as_github([]) == ""


def test_the_total_counts_errors_warnings_and_files() -> None:
    assert total([WARNING, ERROR]) == "1 error and 1 warning in 2 files."
    assert total([ERROR, ERROR]) == "2 errors in 1 file."


def test_data_has_counts_and_none_for_an_unknown_position() -> None:
    data = as_data([WARNING, ERROR])
    assert (data["errors"], data["warnings"]) == (1, 1)
    assert data["problems"] == [
        {"file": "a.yaml", "line": None, "column": None, "severity": "warning", "rule": "unused",
         "says": "50 % is: not, used.", "way_out": ""},
        {"file": "b.yaml", "line": 2, "column": 9, "severity": "error", "rule": "unknown-key",
         "says": "No field 'x'.", "way_out": "Did you mean 'y'?"}]


def test_annotations_put_errors_first_and_escape() -> None:
    assert as_github([WARNING, ERROR]) == (
        "::error file=b.yaml,line=2,col=9,title=unknown-key::No field 'x'. Did you mean 'y'?\n"
        "::warning file=a.yaml,title=unused::50 %25 is: not, used.")


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

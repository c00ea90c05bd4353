"""Every trap of YAML has a rule, at the same place with both scanners of PyYAML."""

import pytest

from faultkit.loading.compose import LOADERS, YamlLoader
from tests.loading.helper import Found, alone, found

TRAPS: dict[str, tuple[str | bytes, Found]] = {
    "a tab that indents": ("devices:\n\t-Q9: {kind: relay}\n", [("tab", 2, 1)]),
    "a tab after a colon": ("places:\n  x:\t{says: y}\n", [("tab", 2, 5)]),
    "an anchor": ("places:\n  x: &a {says: y}\n", [("anchor", 2, 6)]),
    "an alias": ("places:\n  x: *a\n", [("alias", 2, 6), ("wrong-shape", 2, 6)]),
    "a tag": ("places:\n  x: {says: !!str y}\n", [("tag", 2, 13)]),
    "a tag that makes Python objects": ("places:\n  x: {says: !!python/name:os.system y}\n",
                                        [("tag", 2, 13)]),
    "a merge key": ("places:\n  x: {says: y, <<: {minutes: 2}}\n", [("unknown-key", 2, 16)]),
    "two documents": ("places:\n  x: {says: y}\n---\nplaces: {}\n",
                      [("several-documents", 3, 1)]),
    "a key twice": ("places:\n  x: {says: y, says: z}\n", [("duplicate-key", 2, 16)]),
    "a key twice, once quoted": ("places:\n  x: {says: y, 'says': z}\n",
                                 [("duplicate-key", 2, 16)]),
    "a text cut by a number sign": ("places:\n  x:\n    says: wire #12 loose\n",
                                    [("text-cut", 3, 16)]),
    "a text cut after two blanks": ("places:\n  x:\n    says: wire  #12 loose\n",
                                    [("text-cut", 3, 17)]),
    "list dashes without a blank": (
        "safety:\n  x:\n    expect: y\n    says:\n      -Q1\n      -Q2\n",
        [("items-run-together", 5, 7)]),
    "the second dash without a blank": ("cautions:\n  - one\n  -two\n", [("missing-blank", 3, 3)]),
    "a plain text over two lines": ("places:\n  x:\n    says: one\n      two\n",
                                    [("text-over-lines", 3, 11)]),
    "a colon in a text": ("places:\n  x:\n    says: check -K1: A1\n", [("colon-in-text", 3, 20)]),
    "no blank after the colons": ("places: {X1:1, X1:2}\n",
                                  [("wrong-shape", 1, 14), ("wrong-shape", 1, 20)]),
    "a text that begins with @": ("places:\n  x:\n    says: @a\n", [("bad-start", 3, 11)]),
    "a text that begins with `": ("places:\n  x:\n    says: `a\n", [("bad-start", 3, 11)]),
    "a text that begins with %": ("places:\n  x:\n    says: %a\n", [("bad-start", 3, 11)]),
    "a text that begins with >": ("places:\n  x:\n    says: > 24\n", [("bad-start", 3, 13)]),
    "a text that begins with |": ("places:\n  x:\n    says: |24\n", [("bad-start", 3, 13)]),
    "a text that begins with *": ("places:\n  x:\n    says: *\n", [("bad-start", 3, 12)]),
    "a text that begins with a brace": ("places:\n  x:\n    says: {x} y\n",
                                        [("bad-start", 3, 15)]),
    "a quote that is not closed": ("places:\n  x:\n    says: \"abc\n", [("quote", 3, 11)]),
    "an escape that is none": ("places:\n  x:\n    says: \"a\\qb\"\n", [("quote", 3, 11)]),
    "a bracket that is not closed": ("wires:\n  80: [-X1:14, -X1:15\n", [("bracket", 2, 7)]),
    "an indent that does not fit": ("places:\n  x: {says: a}\n   y: {says: b}\n",
                                    [("indent", 3, 4)]),
    "nesting without end": ("places: " + "[" * 40 + "]" * 40 + "\n", [("too-deep", 1, 38)]),
    "an empty file": ("", [("empty-file", 1, 1)]),
    "a file of comments": ("# nothing\n", [("empty-file", 1, 1)]),
    "a file of one mark": ("---\n", [("empty-file", 1, 1)]),
    "a file that is a text": ("hello\n", [("wrong-shape", 1, 1)]),
    "a file that is a list": ("- a\n", [("wrong-shape", 1, 1)]),
    "a no-break space as separator": ("places:\n  x:\u00a0{says: a}\n",
                                      [("odd-blank", 2, 3), ("wrong-shape", 2, 13)]),
    "a no-break space in a text": ("places:\n  x: {says: a\u00a0b}\n", [("odd-blank", 2, 13)]),
    "a byte order mark": (b"\xef\xbb\xbfplaces:\n  x: {zays: y}\n", [("unknown-key", 2, 7)]),
    "UTF-16": ("places:\n".encode("utf-16"), [("encoding", 1, 1)]),
    "UTF-32": ("places:\n".encode("utf-32-be"), [("encoding", 1, 1)]),
    "cp1252": ("places:\n  ä: {says: ü}\n".encode("cp1252"), [("encoding", 2, 3)]),
    "a control character": ("places:\n  x: {says: \"a\x07b\"}\n", [("control-character", 2, 15)]),
    "an escape that makes a control character": (
        "places:\n  x: {says: \"a\\e[31mb\"}\n", [("control-character", 2, 13)]),
    "a NUL": ("places:\n  x: {says: a\x00}\n", [("control-character", 2, 14)]),
    "line ends of another system": ("places:\r\n  x: {zays: y}\r\n", [("unknown-key", 2, 7)]),
    "line ends of an old system": ("places:\r  x: {zays: y}\r", [("unknown-key", 2, 7)]),
    "a key that is a list": ("? [a]\n: b\n", [("key-is-no-text", 1, 3)]),
    "a Cyrillic letter in a designation": ("devices:\n  -К1: {kind: relay}\n",
                                           [("look-alike", 2, 3)]),
    "a dash for a minus in a designation": ("devices:\n  –K1: {kind: relay}\n",
                                            [("look-alike", 2, 3)]),
    "a sign beyond the first plane before the fault": (
        "places:\n  x: {says: \U0001f3d7, zays: y}\n", [("unknown-key", 2, 16)]),
}


@pytest.mark.parametrize("loader", LOADERS, ids=lambda loader: loader.__name__)
@pytest.mark.parametrize("trap", TRAPS)
def test_a_trap_is_reported_where_it_stands(trap: str, loader: YamlLoader) -> None:
    text, expected = TRAPS[trap]
    assert found(text, loader) == expected


def test_both_scanners_are_tested_where_the_fast_one_is_installed() -> None:
    import yaml

    assert len(LOADERS) == 1 + bool(yaml.__with_libyaml__)


@pytest.mark.parametrize("loader", LOADERS, ids=lambda loader: loader.__name__)
@pytest.mark.parametrize("text", [
    "places:\n  x:\n    says: wire  # a comment\n",
    "places:\n  x:\n    says: wire   #\n",
    "places:\n  x:\n    says: wire#12\n",
    "places:\n  x:\n    says: 'wire #12'\n",
    "places:\n  x:\n    says: \"wire #12\" # a comment\n",
    "places:\n  x: {says: y} # a comment\n",
    "places:\n  x:\n    says: \"one\n      two\"\n",
    "places:\n  x:\n    says: >-\n      one: two\n      - three #4\n",
    "places:\n  x: {says: 10%}\n",
    "places:\n  x: {says: <24}\n",
    "places:\n  x: {says: it's}\n",
    "# a comment with a\ttab\nplaces:\n  x: {says: y}  # and\tanother\n",
    "---\nplaces:\n  x: {says: y}\n...\n",
])
def test_what_is_no_trap_is_let_pass(text: str, loader: YamlLoader) -> None:
    assert found(text, loader) == []


@pytest.mark.parametrize("loader", LOADERS, ids=lambda loader: loader.__name__)
@pytest.mark.parametrize("levels", [31, 900, 5000, 100_000])
@pytest.mark.parametrize("bracket", ["[", "{", "- ", "? "])
def test_nesting_of_any_depth_is_one_problem_with_a_position(
        levels: int, bracket: str, loader: YamlLoader) -> None:
    (_, line, column), = found(bracket * levels + "\n", loader)
    assert line == 1
    assert 1 <= column <= len(bracket) * levels + 1


def test_a_file_may_not_be_too_large() -> None:
    assert found("# " + "x" * 1_000_000) == [("too-large", 0, 0)]


def test_one_run_tells_of_every_broken_part() -> None:
    text = ("places:\n  x: {says: \"open}\n  y: {zays: b}\nremedies:\n  r: {says: @}\n"
            "  s: {mimutes: 3}\n")
    assert found(text) == [("quote", 2, 13), ("unknown-key", 3, 7), ("bad-start", 5, 13),
                           ("unknown-key", 6, 7)]


def test_what_a_broken_part_hides_is_not_said_to_be_absent() -> None:
    text = "devices:\n  -Q9: {kind: \"relay}\nwires:\n  90: [-Q9:A1, -X1:14]\n"
    rules = [rule for rule, _, _ in found(text)]
    assert "unknown-device" not in rules
    assert "quote" in rules


def test_a_bomb_of_aliases_is_refused_without_being_expanded() -> None:
    rows = ["a0: &a0 [x, x, x, x, x, x, x, x, x]"]
    rows += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 10)]
    rules = [rule for rule, _, _ in alone("\n".join(rows))]
    assert rules.count("alias") == 81
    assert rules.count("anchor") == 10

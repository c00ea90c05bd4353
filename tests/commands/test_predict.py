"""`faultkit predict`: what tests would read, and what moves when."""

import json
from typing import Any

import pytest

from faultkit.commands.main import main
from tests.commands.conftest import WINCH


def asked(capsys: pytest.CaptureFixture[str], *arguments: str) -> Any:  # noqa: ANN401 - JSON
    assert main(["predict", WINCH, *arguments, "--format", "json"]) == 0
    return json.loads(capsys.readouterr().out)


def test_the_healthy_machine_is_predicted_without_a_cause(
    capsys: pytest.CaptureFixture[str],
) -> None:
    data = asked(capsys, "--test", "up-coil", "--test", "coil-ohms", "--test", "look-q2")
    assert [one["test"] for one in data] == ["up-coil", "coil-ohms", "look-q2"]
    assert {one["cause"] for one in data} == {None}
    volts = data[0]["reading"]
    assert volts["unit"] == "V"
    assert volts["low"] < volts["value"] < volts["high"]
    assert 99 < volts["value"] < 121  # 110 V control supply within 10 %
    assert data[1]["reading"]["value"] == pytest.approx(70, rel=0.1)  # attribute of the kind
    assert data[2]["reading"]["in"] > 0.9


def test_an_open_coil_reads_ol_and_the_contactor_stays_out(
    capsys: pytest.CaptureFixture[str],
) -> None:
    data = asked(capsys, "--cause", "Q2.coil-open", "--test", "coil-ohms", "--test", "look-q2")
    assert data[0]["cause"] == "Q2.coil-open"
    assert data[0]["reading"]["value"] == "OL"
    assert data[1]["reading"]["out"] > 0.9


def test_several_causes_are_present_together(capsys: pytest.CaptureFixture[str]) -> None:
    data = asked(capsys, "--cause", "S2.13-14.closed", "--cause", "H1.burnt", "--test", "look-q2",
                 "--test", "walk/-X1:7/ready")
    assert data[0]["cause"] == "S2.13-14.closed + H1.burnt"
    assert data[1]["reading"]["value"] > 99


def test_severities_are_told_apart(capsys: pytest.CaptureFixture[str]) -> None:
    data = asked(capsys, "--cause", "S2.13-14.poor", "--test", "up-coil")
    severities = data[0]["reading"]["severities"]
    assert len(severities) == 2
    assert severities[0] > severities[1]


def test_the_trace_of_a_press_names_the_coil_that_moved(
    capsys: pytest.CaptureFixture[str],
) -> None:
    data = asked(capsys, "--trace", "up")
    assert data["schema_version"] == 1
    assert ("-Q2", "in") in [(one["device"], one["word"]) for one in data["trace"]]
    times = [one["seconds"] for one in data["trace"]]
    assert times == sorted(times)
    assert asked(capsys, "--trace", "up", "--cause", "Q2.coil-open")["trace"] == []


def test_text_has_a_line_for_each_test(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["predict", WINCH, "--cause", "Q2.coil-open"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert len(lines) == 11
    assert any(line.startswith("OL") for line in lines)


@pytest.mark.parametrize(("arguments", "says"), [
    (["--cause", "Q2.coil-opne"], "Did you mean 'Q2.coil-open'?"),
    (["--test", "up-cool"], "Did you mean 'up-coil'?"),
    (["--trace", "upp"], "no condition 'upp'. Did you mean 'up'?"),
    (["--cause", "Q2.13-14.open", "--cause", "Q2.13-14.closed"], "cannot be present together"),
])
def test_a_mistake_is_one_sentence_and_code_2(
    arguments: list[str], says: str, capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["predict", WINCH, *arguments]) == 2
    captured = capsys.readouterr()
    assert says in captured.err
    assert len(captured.err.strip().splitlines()) == 1

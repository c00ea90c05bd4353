"""What the guide says of machines is true of the program."""

import re
from pathlib import Path

from faultkit.circuit.circuit import Circuit
from faultkit.loading import load
from faultkit.vocabulary.machine import Machine
from tests.knowledge.guide import GUIDE, split, tables


def sample(folder: Path) -> Machine:
    """The machine that the guide prints, loaded."""
    found = re.search(r"(?s)```yaml\n(.*?)```", GUIDE.read_text(encoding="utf-8"))
    assert found is not None
    path = folder / "sample.yaml"
    path.write_text(found.group(1), encoding="utf-8")
    loaded = load(path)
    assert [str(problem) for problem in loaded.problems] == []
    assert loaded.machine is not None
    return loaded.machine


def test_the_tables_of_the_guide_are_those_that_the_program_reads() -> None:
    # python -m tests.knowledge.guide writes them anew
    assert split(GUIDE.read_text(encoding="utf-8"))[1] == tables()


def test_the_machine_printed_in_the_guide_loads_without_a_problem(tmp_path: Path) -> None:
    assert "loose-3" in sample(tmp_path).causes


def test_the_machine_printed_in_the_guide_works_and_shows_its_faults(tmp_path: Path) -> None:
    machine = sample(tmp_path)
    circuit = Circuit(machine)
    test = [machine.tests["coil"]]
    healthy = circuit.read(circuit.simulate(), test)[0].value
    loose = circuit.read(circuit.simulate(machine.causes["loose-3"].variants[0]), test)[0].value
    assert 225 < healthy < 230
    assert loose < 1


def test_every_section_and_field_the_loader_knows_is_named_in_the_guide() -> None:
    from faultkit.loading.sections import (
        causes,
        conditions,
        contacts,
        devices,
        places,
        probes,
        remedies,
        settings,
        symptoms,
    )
    from faultkit.loading.sections import tests as named_tests

    text = split(GUIDE.read_text(encoding="utf-8"))[0]
    for room in (causes, conditions, contacts, devices, named_tests, places, probes, remedies,
                 settings, symptoms):
        missing = [key for key in room.KEYS if f"`{key}" not in text and f"{key}:" not in text]
        assert missing == [], room.__name__

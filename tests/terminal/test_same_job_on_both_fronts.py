"""The screens and the line-by-line mode do the same job with the same keys."""

import pytest

from faultkit.commands.opening import JobEngine
from faultkit.job.events import ReadingWithdrawn, Repaired, TestOffered, TestSkipped
from tests.terminal.fake import job_for, on_lines, on_screens

CAUSES = ("Q2.coil-open", "S2.13-14.open", "F3.1-2.open", "H1.burnt")


@pytest.mark.parametrize("cause", CAUSES)
async def test_both_fronts_find_the_fault_by_the_same_events(winch: JobEngine, cause: str) -> None:
    script = job_for(winch, cause)
    lines, said = on_lines(winch, script)
    screens, last = await on_screens(winch, script)
    assert lines == screens
    assert lines[-1] == Repaired(winch.machine.causes[cause].remedy, cured=True)
    assert "Repaired and cured." in said
    assert "Press the emergency stop while raising" in said
    assert last == "PaperScreen"


async def test_detours_are_the_same_events_on_both_fronts(winch: JobEngine) -> None:
    script = job_for(winch, "S2.13-14.open", detours=True)
    lines, _ = on_lines(winch, script)
    screens, _ = await on_screens(winch, script, size=(140, 45))
    assert lines == screens
    kinds = [type(event) for event in lines]
    assert kinds.index(TestSkipped) + 1 == kinds.index(TestOffered)
    assert ReadingWithdrawn(1) in lines

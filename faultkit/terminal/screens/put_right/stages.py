"""In which order a repair is gone through."""

from typing import Literal

Stage = Literal["dead", "work", "ready", "test", "live", "try"]
STAGE_NAMES: dict[Stage, str] = {
    "dead": "1 make it dead", "work": "2 the work", "ready": "3 repeat the test",
    "test": "3 repeat the test", "live": "4 try the complaint", "try": "4 try the complaint"}


def stage_after(*, needs_dead: bool, dead: bool, worked: bool, repeated: bool,
                test_ready: bool) -> Stage:
    """What comes next.

    Parameters
    ----------
    needs_dead : bool
        The work is done on the dead machine.
    dead : bool
        The machine is dead now.
    worked, repeated : bool
        The work is done; the test that found the fault was repeated or left out.
    test_ready : bool
        The machine is in a state in which that test can be made.
    """
    if not worked:
        return "dead" if needs_dead and not dead else "work"
    if not repeated:
        return "test" if test_ready else "ready"
    return "live" if dead else "try"

"""What the bench shows, as one frozen picture that its panels draw."""

from dataclasses import dataclass

from faultkit.job.records import Assessment, JobState, Suggestion
from faultkit.terminal.desk import Change
from faultkit.terminal.wording.words import Glyphs
from faultkit.vocabulary.diagnosis import Reading, Test
from faultkit.vocabulary.machine import Machine


@dataclass(frozen=True, slots=True)
class View:
    """One moment at the bench."""

    machine: Machine
    state: JobState
    assessment: Assessment | None
    """None until the first one is worked out."""
    test: Test | None
    """The test in hand; None where there is none."""
    suggestion: Suggestion | None
    cured: bool
    """True when a repair cured the machine."""
    thinking: bool
    """True while the next test is being worked out."""
    doing: str
    """What is still being computed in the background; usually empty."""
    glyphs: Glyphs
    coming_from: str | None = None
    """Condition the machine is in now, as far as one can know."""
    change: Change | None = None
    """What must be gone through before the test in hand; None for nothing."""
    typed: Reading | None = None
    """What the entry field holds, as far as it is understood."""

"""What thinking about a state brings back."""

from dataclasses import dataclass

from faultkit.job.records import Assessment, JobState, Suggestion


@dataclass(frozen=True, slots=True)
class Thought:
    """What a worker found out, and for which moment."""

    state: JobState
    chosen: str | None
    assessment: Assessment
    own: Suggestion | None

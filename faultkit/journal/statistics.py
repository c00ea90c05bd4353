"""What many jobs say together; worked out from their heads."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from statistics import median

from faultkit.journal.records import JobHead

FIT = "fit for use"


@dataclass(frozen=True, slots=True)
class Statistics:
    """Figures over some jobs."""

    jobs: int
    open: int
    closed: Mapping[str, int]
    """How many were closed in which way."""
    mean_minutes: float | None
    """From the beginning to the last event, of closed jobs; None where there are none."""
    median_minutes: float | None
    """The same; a job left open over a weekend does not move it."""
    tests_a_job: float | None
    """Tests made in a closed job, on average."""
    cures: Mapping[str, Mapping[str, int]]
    """Remedy -> month (as 2025-03) -> how often it cured; remedies by frequency."""


def cures(heads: Iterable[JobHead]) -> Mapping[str, int]:
    """How often each remedy cured, in jobs handed over as fit for use."""
    counts = Counter(repair.remedy for head in heads if head.closed == FIT
                     for repair in head.repairs if repair.cured)
    return dict(sorted(counts.items()))


def statistics_of(heads: Sequence[JobHead]) -> Statistics:
    """Figures over jobs."""
    done = [head for head in heads if head.closed]
    minutes = [(head.last - head.begun).total_seconds() / 60 for head in done]
    months: dict[str, Counter[str]] = {}
    for head in done:
        for repair in head.repairs:
            if repair.cured and head.closed == FIT:
                months.setdefault(repair.remedy, Counter())[f"{repair.when:%Y-%m}"] += 1
    ranked = sorted(months.items(), key=lambda item: (-item[1].total(), item[0]))
    return Statistics(
        jobs=len(heads),
        open=len(heads) - len(done),
        closed=dict(sorted(Counter(head.closed for head in done).items())),
        mean_minutes=sum(minutes) / len(minutes) if minutes else None,
        median_minutes=median(minutes) if minutes else None,
        tests_a_job=sum(head.readings for head in done) / len(done) if done else None,
        cures={remedy: dict(sorted(counts.items())) for remedy, counts in ranked},
    )

"""What to do at all: go on with a job that was kept, or begin one on a machine."""

from dataclasses import dataclass

from faultkit.errors import FaultkitError
from faultkit.journal.records import JobHead
from faultkit.terminal.library import Library
from faultkit.terminal.plain.talk import Talk
from faultkit.terminal.wording.jobs import job_lines

LISTED = 9
"""Open jobs offered at once."""


@dataclass(frozen=True, slots=True)
class Chosen:
    """What to open: a machine, and the job that was begun on it, if any."""

    machine: str
    job: JobHead | None = None


def which(library: Library, machine: str | None, resume: str | None, talk: Talk) -> Chosen | None:
    """Choose a job or a machine; None where the person goes back."""
    if resume is not None:
        head = library.job(resume) if resume else _last(library)
        return Chosen(machine or head.machine, head)
    if machine is not None:
        return Chosen(machine)
    return _ask(library, talk)


def _last(library: Library) -> JobHead:
    heads = library.open_jobs(1)
    if not heads:
        raise FaultkitError("No job is open.", "Leave --resume out to begin one.")
    return heads[0]


def _ask(library: Library, talk: Talk) -> Chosen | None:
    jobs, offers = library.open_jobs(LISTED), library.offers()
    if not offers and not jobs:
        raise FaultkitError("No machine is bundled or added.", "Give the path of one.")
    rows = [f"Go on with {'; '.join(job_lines(one))}" for one in jobs]
    rows += [f"{offer.title}. {offer.says}" for offer in offers]
    talk.say("Which machine stands still?")
    index = talk.choose("Number: ", rows)
    if index is None:
        return None
    if index < len(jobs):
        return Chosen(jobs[index].machine, jobs[index])
    return Chosen(offers[index - len(jobs)].name)

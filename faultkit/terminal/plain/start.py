"""What to do at all: go on with a job that was kept, or begin one on a machine."""

from dataclasses import dataclass

from faultkit.errors import FaultkitError
from faultkit.journal.records import JobHead
from faultkit.terminal.library import Library, job_to_resume
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
        head = job_to_resume(library, resume)
        return Chosen(machine or head.machine, head)
    if machine is not None:
        return Chosen(machine)
    return _ask(library, talk)


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

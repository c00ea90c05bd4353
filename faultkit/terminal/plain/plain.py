"""The line-by-line mode from its first question to its last line."""

from contextlib import suppress

from faultkit.errors import FaultkitError
from faultkit.terminal.desk import Desk
from faultkit.terminal.library import Book, Library
from faultkit.terminal.plain.job import PlainJob
from faultkit.terminal.plain.session import Session
from faultkit.terminal.plain.start import Chosen, which
from faultkit.terminal.plain.talk import Ask, Ended, Left, Say, Talk
from faultkit.terminal.wording.cautions import DECIDES, LAND_FIRST, NEVER
from faultkit.terminal.wording.jobs import job_lines

FINE, INTERRUPTED = 0, 130
SAFE = "Make the machine safe before you go."


def run_plain(
    library: Library, machine: str | None, ask: Ask, say: Say, resume: str | None = None,
) -> int:
    """Do one job on lines.

    Parameters
    ----------
    library : Library
        Machines to choose from, and the jobs that were kept.
    machine : str or None
        Name or path; None asks for it.
    ask, say : callable
        Ask for a line; say a line.
    resume : str or None
        Id, or a beginning of it, of a job to go on with; empty for the last one that is open;
        None for a new job, or to be asked.

    Returns
    -------
    int
        0 when the job is done or the person left, 130 when it was interrupted, 128 + n when
        signal n ended it.

    Raises
    ------
    FaultkitError
        The machine cannot be opened, or there is no such job.
    """
    conversation = _Conversation(library, Talk(ask, say))
    try:
        return conversation.run(machine, resume)
    except Ended as ended:  # may come at any time, while the last line is said too
        conversation.end(f"Ended from outside. {SAFE}")
        return ended.code


class _Conversation:
    """A job from its choice to its last line, and where it is kept meanwhile."""

    def __init__(self, library: Library, talk: Talk) -> None:
        self.library, self.talk = library, talk
        self.book: Book | None = None

    def run(self, machine: str | None, resume: str | None) -> int:
        """Do a job to its last line, however it ends; gives the exit code."""
        try:
            self._hold(machine, resume)
        except Left:
            self.end(f"Left. {SAFE}")
        except KeyboardInterrupt:
            self.end(f"Interrupted. {SAFE}")
            return INTERRUPTED
        except FaultkitError:
            self.end("")
            raise
        except Exception:
            self.end(f"Something went wrong. {SAFE}")
            raise
        return FINE

    def _hold(self, machine: str | None, resume: str | None) -> None:
        """Choose, open, and do a job."""
        if self.library.warning:
            self.talk.tell(self.library.warning, "! ")
        chosen = which(self.library, machine, resume, self.talk)
        if chosen is None:
            return
        desk = self._open(chosen)
        warned = [self.library.warning]

        def think_of_warning() -> None:
            if self.library.warning not in warned:
                warned.append(self.library.warning)
                self.talk.tell(self.library.warning, "! ")

        session = Session(desk, self.talk, minding=think_of_warning)
        assert self.book is not None
        PlainJob(session, self.book).run()
        self.end("Done.")

    def end(self, says: str) -> None:
        """Say the last line: where the job is. The listener may have gone already."""
        with suppress(OSError, ValueError):
            if says:
                self.talk.say(f"\n{says}")
            if self.book is not None and self.book.way_back:
                self.talk.say(self.book.way_back)

    def _open(self, chosen: Chosen) -> Desk:
        engine = self.library.open(chosen.machine, self.talk.say)
        self.talk.say(f"\n{engine.machine.title}")
        for caution in dict.fromkeys((LAND_FIRST, NEVER, *engine.machine.cautions, DECIDES)):
            self.talk.tell(caution, "! ")
        if chosen.job is None:
            self.book = self.library.begin(engine)
            return Desk(engine, self.book.hear)
        if chosen.job.machine != engine.machine.id:
            raise FaultkitError(f"Job {chosen.job.id[:8]} is about {chosen.job.machine!r}, not "
                                f"about {engine.machine.id!r}.")
        self.book = self.library.resume(chosen.job)
        self.talk.tell(f"Going on with {'; '.join(job_lines(chosen.job))}")
        return Desk(engine, self.book.hear, self.book.noted)

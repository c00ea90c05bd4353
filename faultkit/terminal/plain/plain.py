"""The line-by-line mode from its first question to its last line."""

from faultkit.errors import FaultkitError
from faultkit.terminal.library import Library
from faultkit.terminal.plain.job import PlainJob
from faultkit.terminal.plain.talk import Ask, Left, Say, Talk
from faultkit.terminal.wording.cautions import DECIDES, LAND_FIRST, NEVER

FINE, INTERRUPTED = 0, 130


def run_plain(library: Library, machine: str | None, ask: Ask, say: Say) -> int:
    """Do one job on lines.

    Parameters
    ----------
    library : Library
        Machines to choose from.
    machine : str or None
        Name or path; None asks for it.
    ask, say : callable
        Ask for a line; say a line.

    Returns
    -------
    int
        0 when the job is done or the person left, 130 when it was interrupted.

    Raises
    ------
    FaultkitError
        The machine cannot be opened.
    """
    talk = Talk(ask, say)
    try:
        name = machine or _which(library, talk)
        if name is not None:
            engine = library.open(name, say)
            say(f"\n{engine.machine.title}")
            for caution in dict.fromkeys((LAND_FIRST, NEVER, *engine.machine.cautions, DECIDES)):
                talk.tell(caution, "! ")
            PlainJob(engine, talk).run()
    except Left:
        say("\nLeft. Make the machine safe before you go.")
    except KeyboardInterrupt:
        say("\nInterrupted. Make the machine safe before you go.")
        return INTERRUPTED
    return FINE


def _which(library: Library, talk: Talk) -> str | None:
    offers = library.offers()
    if not offers:
        raise FaultkitError("No machine is bundled or added.", "Give the path of one.")
    talk.say("Which machine stands still?")
    index = talk.choose("Number: ", [f"{offer.title}. {offer.says}" for offer in offers])
    return None if index is None else offers[index].name

"""Every screen of the program, each brought up from a job that was kept, at one fixed moment."""

from dataclasses import dataclass, field, replace

from textual.pilot import Pilot

from faultkit.commands.opening import JobEngine
from faultkit.job.events import (
    BridgeFound,
    CalledOut,
    Closed,
    ConditionChanged,
    Event,
    ProofMade,
    ReadingTaken,
    Remarked,
    Repaired,
    SymptomTold,
)
from faultkit.terminal.app import FaultkitApp
from faultkit.vocabulary.diagnosis import Reading
from tests.terminal.books import head, noted
from tests.terminal.fake import Listening, OneMachine, job_for
from tests.terminal.hands import settled, write

WARNING = "Nothing is being saved: the folder is read-only. The job is kept in memory only."
REPORT = "# Report on a job\n\nMachine: Small test winch\n\n| Test | Read |\n|---|---|\n" + "".join(
    f"| test {number} | {number} V |\n" for number in range(1, 30))

CALL = CalledOut(who="Shift lead", asset="H-12", site="Bay 2", complaint="UP is dead",
                 changed="pendant cable", load="none")
HANGING = replace(CALL, load="hanging", people=True)
NO_UP = SymptomTold("no-up", shows=True)
COIL_FULL = ReadingTaken("up-coil", Reading(114.0))
COIL_ODD = ReadingTaken("coil-ohms", Reading(24.0))
DEAD = ConditionChanged("isolated", True, ("load", "people", "off:-Q0", "lock"))


@dataclass(frozen=True)
class Scene:
    """How to bring up one screen."""

    events: tuple[Event, ...] | None = None
    """What happened in the job that is gone on with; None for no job."""
    keys: tuple[str, ...] = ()
    """Pressed one after the other; what begins with `>` is pasted and entered."""
    warning: str = ""
    heads: int = 0
    """Open jobs in the list."""
    resumes: bool = field(default=True)


def found(engine: JobEngine) -> tuple[Event, ...]:
    """Everything up to the finding of an open coil."""
    return job_for(engine, "Q2.coil-open").events


def scenes(engine: JobEngine) -> dict[str, Scene]:
    """Every scene by its name."""
    up_to = found(engine)
    cured = (*up_to, Repaired("Q2.replace", cured=True, repeated="look-q2",
                              reading=Reading(None, "in")))
    proved = (*cured, ProofMade("emergency stop", True, "Kim"))
    begun = (CALL, NO_UP)
    return {
        "start": Scene(keys=("escape",), resumes=False),
        "start-jobs": Scene(heads=3, resumes=False, keys=("escape",), warning=WARNING),
        "machine": Scene(resumes=False),
        "call": Scene(resumes=False, keys=("enter", "1", "2", "5", "> Shift lead")),
        "secure": Scene((HANGING,), ("enter", "0")),
        "secure-how": Scene((HANGING,), ("enter", "0", "2")),
        "complaint": Scene((CALL,), ("enter", "0", "1")),
        "bench": Scene(begun, ("enter",), WARNING),
        "bench-first": Scene((*begun, COIL_FULL, DEAD, BridgeFound("-S0:11 to -S0:12")),
                             ("enter",)),
        "bench-doubt": Scene((*begun, DEAD, COIL_ODD), ("enter",)),
        "switching": Scene(begun, ("enter", "d", "1", "2", "3")),
        "switching-off": Scene((*begun, DEAD), ("enter", "d", "1", "escape"), WARNING),
        "readings": Scene((*begun, DEAD, COIL_ODD), ("enter", "r")),
        "compare": Scene((*begun, COIL_FULL, DEAD, COIL_ODD), ("enter", "r", "2", "> OL")),
        "free-point": Scene(begun, ("enter", "e", "q", "2")),
        "free-state": Scene(begun, ("enter", "e", "> Q2:A1", "> N", "1")),
        "tests": Scene(begun, ("enter", "t")),
        "why": Scene(begun, ("enter", "w")),
        "suspects": Scene(begun, ("enter", "p")),
        "bridges": Scene((*begun, BridgeFound("-S0:11 to -S0:12")), ("enter", "b")),
        "remarks": Scene((*begun, Remarked("Cable chafed at the trolley.")), ("enter", "n")),
        "works": Scene(begun, ("enter", "x")),
        "finding": Scene(up_to, ("enter",)),
        "put-right-dead": Scene(_alive(up_to), ("enter", "1")),
        "put-right-work": Scene(_asleep(up_to), ("enter", "1")),
        "put-right-test": Scene(_asleep(up_to), ("enter", "1", "1")),
        "put-right-try": Scene(_alive(up_to), (
            "enter", "1", "1", "1", "2", "3", "4", "5", "6", "7", "8", "9", "1", "2", "1",
            "1", "2", "3", "4", "5", "6", "7", "8", "1")),
        "hand-back": Scene(cured, ("enter", "h")),
        "hand-back-seen": Scene(cured, ("enter", "h", "f")),
        "closing": Scene(proved, ("enter", "h", "0")),
        "closing-blocked": Scene((*cured, BridgeFound("-S0:11 to -S0:12")),
                                 ("enter", "h", "0", "1")),
        "closed": Scene((*proved, Closed("fit for use", "Kim")), ("enter",)),
        "closed-unfit": Scene((*cured, Closed("not fit for use", "Kim", "rope frayed")),
                              ("enter",), WARNING),
        "report": Scene(begun, ("enter", "v")),
        "leave": Scene(begun, ("enter", "ctrl+q"), WARNING),
    }


def _alive(events: tuple[Event, ...]) -> tuple[Event, ...]:
    """The same job with the machine live at its end."""
    return (*events, ConditionChanged("ready", False, ("tools",)))


def _asleep(events: tuple[Event, ...]) -> tuple[Event, ...]:
    """The same job with the machine dead at its end."""
    return (*events, DEAD)


def app_of(engine: JobEngine, scene: Scene) -> FaultkitApp:
    """The app in which a scene is brought up."""
    library = OneMachine(Listening(engine))
    library.warning = scene.warning
    library.book.text = lambda _: REPORT
    library.heads = tuple(head(f"{number}f2a91c0aa", asset=f"H-{number}", site="Bay 2",
                               complaint="UP is dead") for number in range(1, scene.heads + 1))
    if not scene.resumes:
        return FaultkitApp(library, "winch")
    library.heads = (head("9e4d00aa11"),)
    library.kept = {"9e4d00aa11": list(noted(scene.events or ()))}
    return FaultkitApp(library, resume="9e4")


async def bring_up(pilot: "Pilot[int]", scene: Scene) -> None:
    """Press what leads to the scene."""
    await settled(pilot)
    for key in scene.keys:
        if key.startswith(">"):
            await write(pilot, key.removeprefix(">").strip())
        else:
            await pilot.press(key)
        await settled(pilot)


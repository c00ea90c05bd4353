"""Jobs done on lines in the tests: what is typed, what is said, what is kept."""

from dataclasses import dataclass, field

from faultkit.commands.opening import JobEngine
from faultkit.job.events import (
    Event,
)
from faultkit.terminal.plain.plain import run_plain
from tests.jobs.electrician import Electrician
from tests.terminal.fake import Listening, OneMachine

COIL = "Q2.coil-open"


@dataclass
class Done:
    """A job that was done on lines."""

    hand: Electrician
    library: OneMachine
    resume: str | None = None
    said: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.code = run_plain(self.library, "winch", self._ask, self.said.append, self.resume)

    def _ask(self, prompt: str) -> str:
        self.said.append(prompt)
        answer = self.hand.answer("\n".join(self.said), prompt)
        if answer == "^D":
            raise EOFError
        return answer

    @property
    def text(self) -> str:
        return "\n".join(self.said)

    @property
    def events(self) -> list[Event]:
        return [one.event for one in self.library.book.noted]

    def kinds(self) -> list[str]:
        return [type(event).__name__ for event in self.events]


BENCH = ("Reading: ", "Letter: ", "First the machine")
"""How the questions at the bench begin."""


@dataclass
class Returning(Electrician):
    """Types keys at the bench once the person came back to it from the proofs."""

    keys: list[str] = field(default_factory=list)

    def answer(self, said: str, prompt: str) -> str:
        back = any("Enter: the list of proofs" in question for question in self.asked)
        if self.keys and back and prompt.startswith(BENCH):
            self.asked.append(prompt)
            return self.keys.pop(0)
        return super().answer(said, prompt)


class Mistaken(Electrician):
    """Tells the first repair as not cured, and takes that back."""

    told = undone = False

    def answer(self, said: str, prompt: str) -> str:
        if "Is the complaint gone" in prompt and not self.told:
            self.told = True
            return "n"
        if self.told and not self.undone and prompt.startswith(BENCH):
            self.undone = True
            return "u"
        return super().answer(said, prompt)


def do(winch: JobEngine, cause: str = COIL, load: str = "none", **first: list[str]) -> Done:
    """Do a job; `first` is what is typed at some questions before the usual answers."""
    asked = {QUESTIONS[name]: list(answers) for name, answers in first.items()}
    return Done(Electrician(winch, cause, load=load, first=asked), OneMachine(Listening(winch)))


QUESTIONS = {
    "reading": "Reading: ", "letter": "Letter: ", "steps": "First the machine must be made",
    "step": "Done? Enter", "finding": "Your answer", "gone": "Is the complaint gone",
    "prove": "p passed", "seen": "What was read or seen", "proved": "Who proved it",
    "close": "Number (Enter: 1)", "number": "Number: ", "why": "Why not", "tried": "What was tried",
    "hands": "Who hands over", "again": "Enter: the list of proofs again", "work": "Do the work",
    "which": "Change which reading", "truth": "What was it in truth", "do": "Do it?",
    "remark": "Your remark", "bridge": "Which? ", "where": "Where is it", "out": "Is it out",
    "closed": "Number (0 leaves)", "load": "Load on the hook",
    "who": "Who called", "dead": "Dead work only", "secure": "How is the load secured",
    "proofs": "Go through the proofs", "test": "Which test", "part": "Part of a device",
    "now": "Reading now", "red": "RED on", "black": "BLACK on", "meter": "Which meter",
    "state": "In which state", "three": "Number (Enter: 3)", "complaint": "Number for what shows",
}

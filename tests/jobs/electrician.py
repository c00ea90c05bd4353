"""An electrician who works on a faulty machine and answers whatever the lines ask.

Nothing is counted off: each answer follows from the question and from what was said before it,
so that a job can be broken off anywhere and gone on with.
"""

import math
import re
from collections.abc import Callable
from dataclasses import dataclass, field

from faultkit.commands.opening import JobEngine
from faultkit.terminal.wording.complaint import grouped
from faultkit.vocabulary.diagnosis import Reading, Test
from faultkit.vocabulary.quantities import show_reading

MOST = 400
"""Questions in one job."""
MARK = re.compile(r"^ *(\d+) \[(SHOWS|works)\]", re.MULTILINE)
DIGITS = {"none": "1", "hanging": "2", "unknown": "3"}


@dataclass
class Electrician:
    """Does what is asked on a machine with one hidden cause, until the job is closed.

    Parameters
    ----------
    engine : JobEngine
    cause : str
        What is hidden in the machine.
    load : str
        What hangs on the hook.
    how : str
        Digit of how the load is secured.
    first : dict
        Part of a question -> what is typed at it before the usual answer, in order.
    """

    engine: JobEngine
    cause: str
    load: str = "none"
    how: str = "1"
    first: dict[str, list[str]] = field(default_factory=dict)
    worked: bool = False
    """The part is changed, whether that was told or not."""
    repaired: bool = False
    asked: list[str] = field(default_factory=list)
    """Every question, for looking at when something goes wrong."""

    def answer(self, said: str, prompt: str) -> str:
        """What is typed after `said`, at `prompt`."""
        self.asked.append(prompt)
        assert len(self.asked) < MOST, f"no end: {self.asked[-6:]}"
        for words, answers in self.first.items():
            if words in prompt and answers:
                return answers.pop(0)
        for words, reply in self._replies().items():
            if words in prompt:
                return reply(said) if callable(reply) else reply
        raise AssertionError(f"nobody knows what to answer to {prompt!r}")

    def _replies(self) -> dict[str, str | Callable[[str], str]]:
        return {
            "Load on the hook": DIGITS[self.load],
            "People work or walk": "n",
            "Load sinks or brake": "",
            "Dead work only": "",
            "Who called": "Ann [bold]",
            "Tag of the machine": "A-7",
            "Where it stands": "bay 3",
            "in their words": "UP is \x1b[31mdead",
            "What was changed last": "",
            "How is the load secured": self.how,
            "How, and by whom": "chain at the frame",
            "Number for what shows": self._complaint,
            "First the machine must be made": "",
            "Done? Enter": "",
            "Reading now": lambda said: self._typed(self._after(said, "found it: "), healthy=True),
            "Reading": lambda said: self._typed(self._after(said, "DO NOW: "), self.repaired),
            "Your answer": self._finding,
            "The machine must be dead for this": "d" if self.worked else "",
            "Do the work": self._work,
            "Is the complaint gone": self._gone,
            "A word on the repair": "new part",
            "p passed": "p",
            "What was read or seen": "",
            "Who proved it": "Bob",
            "Who hands over": "Bob",
            "Enter: the list of proofs again": "",
            "Number (Enter: 1)": "1",
            "Number (0 leaves)": "0",
        }

    def _complaint(self, said: str) -> str:
        shows, works = symptoms_of(self.engine, self.cause)
        wanted = {*((str(n), "SHOWS") for n in shows), *((str(n), "works") for n in works)}
        marked = set(MARK.findall(said.rpartition("What is the complaint")[2]))
        if wanted <= marked:
            return "0"
        return " ".join([*map(str, shows), *(f"w{n}" for n in works)])

    def _finding(self, said: str) -> str:
        """Confirm where that is offered, else put right what comes first."""
        tail = said.rpartition("FINDING")[2].splitlines()
        offers = {row.strip()[:1]: row for row in tail if row.strip()[1:3] == "  "}
        confirm = [digit for digit, row in offers.items() if "First confirm it" in row]
        return confirm[0] if confirm else "1"

    def _work(self, _said: str) -> str:
        self.worked = True
        return ""

    def _gone(self, _said: str) -> str:
        self.repaired = True
        return "y"

    def _after(self, said: str, mark: str) -> Test:
        """The test that was named last."""
        rest = said.rpartition(mark)[2]
        words = " ".join(rest.split())
        fitting = [test for test in self.engine.machine.tests.values()
                   if words.startswith(" ".join(test.does.split()))
                   and self.engine.machine.conditions[test.condition].says in words[:400]]
        assert fitting, words[:200]
        return max(fitting, key=lambda test: len(test.does))

    def _typed(self, test: Test, healthy: bool) -> str:
        return as_typed(self.engine, None if healthy else self.cause, test.id)


def row_of(engine: JobEngine, cause: str | None) -> int:
    """Row of the table for a cause; that of the healthy machine for None."""
    table = engine.knowledge.prediction
    if cause is None:
        return len(table.owner) - 1
    return next(v for v in range(len(table.owner))
                if table.owner[v] >= 0 and table.causes[table.owner[v]].id == cause)


def as_typed(engine: JobEngine, cause: str | None, test: str) -> str:
    """What a machine would show at a test, as a person would type it."""
    table = engine.knowledge.prediction
    column = [one.id for one in table.tests].index(test)
    row = row_of(engine, cause)
    if table.words[column]:
        return str(int(table.word_p[row, column].argmax()) + 1)
    value = float(table.value[row, column])
    if math.isinf(value):
        return "OL"
    return show_reading(Reading(float(f"{value:.3g}")), table.tests[column].meter)


def symptoms_of(engine: JobEngine, cause: str) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Numbers of the symptoms that show under a cause, and of the others, in list order."""
    table = engine.knowledge.prediction
    row = row_of(engine, cause)
    names = [s.id for _, group in grouped(engine.machine) for s in group]
    shows = [table.symptom_p[row, table.symptoms.index(name)] > 0.5 for name in names]
    return (tuple(n for n, yes in enumerate(shows, 1) if yes),
            tuple(n for n, yes in enumerate(shows, 1) if not yes))

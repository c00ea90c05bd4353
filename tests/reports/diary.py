"""Jobs written down for reports: events with times, and readings as a faulty hoist gives them."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta

import numpy as np

from faultkit.job.assess import assess
from faultkit.job.events import (
    BridgeFound,
    CalledOut,
    Closed,
    ConditionChanged,
    Event,
    LoadSecured,
    ProofMade,
    ReadingChanged,
    ReadingTaken,
    ReadingWithdrawn,
    Remarked,
    Repaired,
    SymptomTold,
    SymptomWithdrawn,
    TestSkipped,
)
from faultkit.job.knowledge import Knowledge
from faultkit.job.procedure import procedure
from faultkit.job.records import JobState
from faultkit.job.step import step
from faultkit.vocabulary.diagnosis import Reading

MORNING = datetime(2031, 3, 4, 7, 40, tzinfo=UTC)


@dataclass(frozen=True)
class Line:
    """An event with its time, as a journal would keep it."""

    when: datetime
    event: Event


@dataclass
class Diary:
    """A job in the making."""

    knowledge: Knowledge
    now: datetime = MORNING
    lines: list[Line] = field(default_factory=list)
    state: JobState = field(init=False)

    def __post_init__(self) -> None:
        self.state = JobState(self.knowledge.machine.id)

    def add(self, *events: Event, minutes: float = 2.0) -> "Diary":
        for event in events:
            self.lines.append(Line(self.now, event))
            self.state = step(self.state, event)
            self.now += timedelta(minutes=minutes)
        return self

    def take(self, test: str, reading: float | str) -> "Diary":
        return self.add(ReadingTaken(test, Reading(None, reading) if isinstance(reading, str)
                                     else Reading(reading)), minutes=4)

    def honestly(self, cause: str, *tests: str) -> "Diary":
        """Readings of these tests as the first severity of a cause gives them."""
        for test in tests:
            self.add(ReadingTaken(test, reading_under(self.knowledge, cause, test)), minutes=4)
        return self

    def follow(self, cause: str, most: int = 20) -> "Diary":
        """Every proposed test, read as under a cause, until there is a finding."""
        for _ in range(most):
            view = assess(self.state, self.knowledge)
            if view.finding is not None or not view.next:
                break
            self.honestly(cause, view.next[0].test)
        return self

    def switch(self, condition: str, *, dead: bool) -> "Diary":
        """Make the machine dead or live, every step acknowledged."""
        steps = procedure(self.knowledge.machine, self.state, dead, condition).steps
        return self.add(ConditionChanged(condition, dead, tuple(s.id for s in steps)), minutes=9)

    def prove(self, who: str = "M. Example", leave: Sequence[str] = ()) -> "Diary":
        """Every safety function of the machine, except some."""
        for name, function in self.knowledge.machine.safety.items():
            if name not in leave:
                self.add(ProofMade(name, True, who, function.expect[:30]), minutes=3)
        return self

    def close(self, how: str = "fit for use", reason: str = "") -> "Diary":
        return self.add(Closed(how, "M. Example", reason))  # type: ignore[arg-type]


def reading_under(knowledge: Knowledge, cause: str, test: str) -> Reading:
    """What a test reads under the first severity of a cause; empty cause: healthy."""
    prediction = knowledge.prediction
    column = [t.id for t in prediction.tests].index(test)
    row = -1
    if cause:
        index = [c.id for c in prediction.causes].index(cause)
        row = int(np.flatnonzero(prediction.owner == index)[0])
    if words := prediction.words[column]:
        return Reading(None, words[int(prediction.word_p[row, column].argmax())])
    return Reading(round(float(prediction.value[row, column]), 1))


def interlock(knowledge: Knowledge) -> Diary:
    """A whole job on the bundled hoist: a worn interlock contact, found, put right, proved."""
    job = Diary(knowledge)
    job.add(CalledOut(who="M. Example, on-call electrician", asset="Crane 7, hoist 1",
                      site="Repair bay, north side", changed="Pendant cable renewed last week",
                      complaint="Up does nothing at all, down still works. Started this morning.",
                      load="hanging", people=False))
    job.add(LoadSecured("landed", "on the trestles"))
    job.add(SymptomTold("no-up", True), SymptomTold("no-down", False))
    job.follow("Q3.21-22.open")
    job.switch("isolated", dead=True)
    job.now += timedelta(minutes=25)
    job.switch("ready", dead=False)
    last = job.state.entries[-1].test
    job.add(Repaired("Q3.replace", True, last, reading_under(knowledge, "", last),
                     "Spring of the contact block worn."), minutes=6)
    return job.prove().close()


def wrong_turn(knowledge: Knowledge) -> Diary:
    """Mistakes, a repair that did not cure, a bridge, a failed proof: not fit for use."""
    job = Diary(knowledge)
    job.add(CalledOut(who="M. Example", asset="Crane 7, hoist 1", site="Repair bay",
                      complaint="Nothing moves upwards", load="none"))
    job.add(SymptomTold("no-up", True), SymptomTold("no-down", True), SymptomWithdrawn("no-down"),
            SymptomTold("no-down", False), minutes=1)
    job.take("q2-coil", 0.0).take("walk-up/-X1:23/up-slow", 1.9)
    job.add(ReadingChanged(2, Reading(112.0)))
    job.take("walk-up/-K2:14/up-slow", 5.0)
    job.add(ReadingWithdrawn(3))
    job.add(BridgeFound("-B1:31 to -B1:32, loose wire link under the cover"))
    job.take("relays-up/-K2/up-slow", "in").take("interlock-up-drop", 0.4)
    job.add(Repaired("K3.replace", False, "interlock-up-drop", Reading(0.3), "Took it from stock."))
    job.now += timedelta(hours=15)
    job.follow("Q3.21-22.open", 12)
    job.add(TestSkipped("air-gap"), Remarked("The panel door has no lock.\nTold the foreman."))
    job.add(Repaired("Q3.replace", True))
    names = list(knowledge.machine.safety)
    job.add(ProofMade(names[0], True, "M. Example", "stopped 20 cm below"))
    job.add(ProofMade(names[1], False, "M. Example", "main contactor stayed in"))
    return job.close("not fit for use", "The emergency contact does not act; the limit switch "
                                        "must be replaced before use.")


def nothing_found(knowledge: Knowledge) -> Diary:
    """It works now: no fault found, everything proved."""
    job = Diary(knowledge)
    job.add(CalledOut(who="M. Example", asset="Crane 7, hoist 1", load="none",
                      complaint="Stopped twice yesterday, works today."))
    job.add(SymptomTold("no-up", True))
    job.follow("", 14)
    return job.prove().close("no fault found", "Tried forty lifts, wiggled plug and cables.")


def sixty(knowledge: Knowledge) -> Diary:
    """As many readings as nobody takes, all of a hoist with one open contact."""
    job = Diary(knowledge)
    job.add(SymptomTold("no-up", True))
    tests = [t.id for t in knowledge.prediction.tests if "up-slow" in t.condition]
    rest = [t.id for t in knowledge.prediction.tests if t.id not in tests]
    return job.honestly("Q3.21-22.open", *[*tests, *rest][:60])


def hand_written(knowledge: Knowledge) -> Diary:
    """A job on a machine without wiring."""
    job = Diary(knowledge)
    job.add(CalledOut(who="M. Example", asset="Crane 7, long travel", load="none", dead_only=True))
    job.add(SymptomTold(next(iter(knowledge.machine.symptoms)), True))
    job.follow(knowledge.prediction.causes[4].id, 12)
    return job


def two_faults(knowledge: Knowledge) -> Diary:
    """A pair: the interlock is open, and a pendant core is broken as well."""
    job = Diary(knowledge)
    job.add(SymptomTold("no-up", True), SymptomTold("no-down", False))
    for test, reading in (("q2-coil", 0.0), ("walk-up/-X1:21/up-slow", 0.3),
                          ("walk-up/-X1:20/up-slow", 112.0), ("button-up-drop", 112.5),
                          ("dead-interlocks/-Q3:21/-Q2:A1/isolated", float("inf")),
                          ("interlock-up-drop", 0.0)):
        if test in knowledge.machine.tests:
            job.take(test, reading)
    job.follow("W1.21p.broken", 6)
    return job

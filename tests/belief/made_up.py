"""Small machines whose prediction table is written by hand, with no circuit behind it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from faultkit.prediction.table import Prediction
from faultkit.vocabulary.diagnosis import Cause, Meter, Remedy, Symptom, Test
from faultkit.vocabulary.machine import Condition, Machine, Place
from faultkit.vocabulary.origin import FROM_MEMORY, GENERATED

INF = float("inf")
Cell = float | tuple[float, float, float] | str | Mapping[str, float]
"""A number (spread 1, no share of the supply), (value, level, sigma), a word, or words."""


@dataclass
class MadeUp:
    """A machine in the making: causes by tests, each cell what is read."""

    tests: dict[str, Test] = field(default_factory=dict)
    healthy: dict[str, Cell] = field(default_factory=dict)
    causes: dict[str, Cause] = field(default_factory=dict)
    cells: dict[str, list[Mapping[str, Cell]]] = field(default_factory=dict)
    remedies: dict[str, Remedy] = field(default_factory=dict)
    symptoms: dict[str, Symptom] = field(default_factory=dict)
    shows: dict[str, dict[str, float]] = field(default_factory=dict)
    unknown: float = 0.03
    places: dict[str, Place] = field(default_factory=lambda: {
        "panel": Place("panel", "Control panel", 0.0, None, GENERATED),
        "hoist": Place("hoist", "Trolley", 6.0, "panel", GENERATED)})
    conditions: dict[str, Condition] = field(default_factory=lambda: {
        "isolated": condition("isolated", dead=True),
        "ready": condition("ready", dead=False),
        "up": condition("up", dead=False, minutes=0.5)})

    def test(self, name: str, healthy: Cell, *, meter: Meter = "V AC", words: Sequence[str] = (),
             minutes: float = 1.0, place: str = "panel", when: str = "ready",
             needs: Sequence[str] = (), device: str = "",
             between: tuple[str, str] | None = None) -> None:
        self.tests[name] = Test(
            name, f"Test {name}", "words" if words else meter, when, place, minutes, between, None,
            None, None, tuple(words), None, tuple(needs), device, (), generated=False,
            origin=GENERATED)
        self.healthy[name] = healthy

    def symptom(self, name: str) -> None:
        self.symptoms[name] = Symptom(name, f"{name} does nothing", f"{name} works", None, {},
                                      GENERATED)

    def cause(self, name: str, *variants: Mapping[str, Cell], weight: float = 1.0, remedy: str = "",
              intermittent: float = 0.0, safety: bool = False, device: str = "",
              shows: Mapping[str, float] | None = None, repair: float = 10.0,
              place: str = "panel", proof: float = 3.0, dead: bool = True) -> None:
        remedy = remedy or f"{name}.replace"
        self.causes[name] = Cause(name, device, f"{name} is broken", weight, FROM_MEMORY, remedy,
                                  (), {}, dict(shows or {}), intermittent, critical=False,
                                  safety=safety, origin=GENERATED)
        self.cells[name] = list(variants)
        self.shows[name] = dict(shows or {})
        self.remedies.setdefault(remedy, Remedy(remedy, f"Put {remedy} right", place, repair,
                                                proof, dead, "", "", (), GENERATED))

    def prediction(self) -> Prediction:
        rows: list[tuple[int, float, Mapping[str, Cell]]] = []
        for index, name in enumerate(self.causes):
            variants = self.cells[name] or [{}]
            rows += [(index, 1.0 / len(variants), cells) for cells in variants]
        rows.append((-1, 1.0, {}))
        tests = tuple(self.tests.values())
        widest = max([len(t.words) for t in tests], default=0)
        shape = (len(rows), len(tests))
        value, level, sigma = np.full(shape, np.nan), np.zeros(shape), np.ones(shape)
        word_p = np.zeros((*shape, widest))
        for i, (_, _, cells) in enumerate(rows):
            for j, test in enumerate(tests):
                cell = cells.get(test.id, self.healthy[test.id])
                if isinstance(cell, str):
                    word_p[i, j, test.words.index(cell)] = 1.0
                elif isinstance(cell, Mapping):
                    for word, p in cell.items():
                        word_p[i, j, test.words.index(word)] = p
                elif isinstance(cell, tuple):
                    value[i, j], level[i, j], sigma[i, j] = cell
                else:
                    value[i, j] = cell
        names = list(self.causes)
        symptom_p = np.array([[0.0 if owner < 0 else self.shows[names[owner]].get(s, 0.0)
                               for s in self.symptoms] for owner, _, _ in rows])
        return Prediction(
            self.machine(), tuple(self.causes.values()), tests,
            np.array([owner for owner, _, _ in rows]), np.array([share for _, share, _ in rows]),
            value, level, sigma, tuple(t.words for t in tests), word_p, tuple(self.symptoms),
            symptom_p.reshape(len(rows), len(self.symptoms)), np.ones(shape, dtype=np.bool_),
            np.zeros((len(rows), len(self.conditions)), dtype=np.bool_))

    def machine(self) -> Machine:
        return Machine("made-up", "Made up", "", "1", "", self.places, {}, self.conditions, {}, {},
                       self.symptoms, self.tests, self.causes, self.remedies, {}, (),
                       self.unknown, GENERATED)


def condition(name: str, *, dead: bool, minutes: float = 0.0, isolating: float = 8.0,
              restoring: float = 3.0) -> Condition:
    return Condition(name, name, None, (), dead, minutes, isolating if dead else 0.0,
                     restoring if dead else 0.0, (), GENERATED)


def chain(length: int = 6) -> MadeUp:
    """Contacts in series before a coil: each can be open; voltage up to the open one.

    Between the contacts lie test points p0 .. pN against the return wire, 110 V up to the
    open contact and 0 V after it; the coil can be open as well, which shows in ohms only.
    """
    made = MadeUp()
    made.symptom("up")
    full, gone = (110.0, 110.0, 1.5), (0.0, 0.0, 1.0)
    for i in range(length + 1):
        made.test(f"p{i}", full, when="up")
    made.test("coil-ohm", (200.0, 0.0, 20.0), meter="ohm", when="isolated")
    made.test("k1", "in", words=("in", "out"), when="up", minutes=0.3)
    for i in range(length):
        dead: dict[str, Cell] = {f"p{j}": gone for j in range(i + 1, length + 1)}
        high: dict[str, Cell] = {f"p{j}": (60.0, 60.0, 8.0) for j in range(i + 1, length + 1)}
        made.cause(f"S{i}.open", {**dead, "k1": "out"}, {**high, "k1": {"out": 0.7, "in": 0.3}},
                   remedy=f"S{i}.replace", weight=2.0 + i % 3, shows={"up": 1.0},
                   device=f"-S{i}", place="hoist" if i > 3 else "panel")
    made.cause("K1.coil", {"coil-ohm": INF, "k1": "out"}, weight=2.0, shows={"up": 1.0},
               device="-K1")
    made.cause("T1.dead", {f"p{j}": gone for j in range(length + 1)} | {"k1": "out"}, weight=1.0,
               shows={"up": 1.0}, device="-T1")
    return made

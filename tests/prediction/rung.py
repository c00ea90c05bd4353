"""One rung as a user's file, with tests, probes, symptoms and causes written by hand."""

from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np

from faultkit.loading import load
from faultkit.prediction import Prediction, predict
from faultkit.prediction.table import Floats
from faultkit.vocabulary.machine import Machine

RUNG = """
machine: One rung
places: {panel: {says: Panel}}
conditions:
  isolated: {says: Isolated, set: {-Q0: off}, dead: yes}
  rest: {says: Supply on}
  held: {says: Button held, after: rest, hold: -S1}
devices:
  -X0: {kind: mains, place: panel, impedance: 0.05 ohm}
  -Q0: {kind: selector, place: panel, contacts: {1-2: main, 3-4: main}}
  -T1: {kind: transformer, place: panel}
  -F3: {kind: fuse, rating: 2 A, place: panel, contacts: {1-2: main}}
  -S1: {kind: button, place: panel, contacts: {13-14: no}}
  -Q1: {kind: contactor, place: panel, contacts: {21-22: nc}}
  -H1: {kind: lamp, place: panel}
wires:
  L1: [-X0:L1, -Q0:1]
  L2: [-X0:L2, -Q0:3]
  L1q: [-Q0:2, -T1:1]
  L2q: [-Q0:4, -T1:2]
  "4": [-T1:3, -F3:1]
  "5": [-F3:2, -S1:13]
  "7": [-S1:14, -Q1:A1, -H1:X1]
  N: [-T1:4, -Q1:A2, -H1:X2]
symptoms:
  no-pull: {says: Nothing happens, works: It pulls in, when: held, sees: {-Q1: [out, drops again]}}
  stinks: {says: It stinks, works: It does not stink}
tests:
  coil: {does: Measure the coil, meter: V AC, between: [-Q1:A1, -Q1:A2], in: held}
  coil-ohm: {does: Measure the coil, meter: ohm, between: [-Q1:A1, -Q1:A2], in: isolated}
  pull: {does: Time it, meter: seconds, until: {-Q1: in}, in: held}
  look: {does: Look at it, meter: words, sees: -Q1, in: held}
  smell: {does: Smell, meter: words, words: [none, burnt], healthy: none, in: isolated}
  gap: {does: Measure the gap, meter: mm, in: isolated, healthy: 0.3 .. 0.6}
probes:
  walk: {reference: -T1:4, at: [-T1:3, -F3:2, -S1:14], meter: V AC, in: [rest, held]}
  silly: {reference: -T1:4, at: [-Q1:A2], meter: V AC, in: [rest, held]}
  lamps: {sees: [-H1], in: [rest, held]}
causes:
  burnt: {device: -Q1, says: Coil burnt, weight: 2, fault: {element: -Q1/coil, to: open},
          expect: {smell: {burnt: 0.8, none: 0.2}, coil: 60 .. 80}, symptoms: {stinks: 0.9},
          remedy: Q1.replace}
  worn: {device: -Q1, says: Worn, weight: 1, expect: {gap: 0.9 .. 1.5, coil-ohm: OL},
         remedy: Q1.replace}
  jumper: {device: -S1, says: Forgotten jumper, weight: 1, remedy: S1.replace,
           fault: {bridge: [-S1:13, -S1:14], to: 0.1 ohm}}
  either: {device: -Q1, says: One or the other, weight: 1, remedy: Q1.replace,
           variants: [{contact: -S1:13-14, to: open}, {element: -H1/lamp, to: open}]}
"""


def machine(text: str = RUNG) -> Machine:
    """The rung, loaded as a user's file would be."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "rung.yaml"
        path.write_text(text, encoding="utf-8")
        loaded = load(path)
    assert loaded.machine is not None, [str(problem) for problem in loaded.problems]
    return loaded.machine


@cache
def rung() -> Machine:
    """The rung, loaded once."""
    return machine()


@cache
def table() -> Prediction:
    """Its prediction, computed once."""
    return predict(rung())


def row_of(prediction: Prediction, cause: str, severity: int = 0) -> int:
    """Number of a cause's row; the healthy machine has no name."""
    index = [c.id for c in prediction.causes].index(cause) if cause else -1
    return int(np.flatnonzero(prediction.owner == index)[severity])


def column_of(prediction: Prediction, test: str) -> int:
    """Number of a test's column."""
    return [t.id for t in prediction.tests].index(test)


def cell(prediction: Prediction, field: str, cause: str, test: str, severity: int = 0) -> float:
    """One number of the table."""
    columns: Floats = getattr(prediction, field)
    return float(columns[row_of(prediction, cause, severity), column_of(prediction, test)])


def chance(prediction: Prediction, cause: str, test: str, word: str) -> float:
    """Probability of a word."""
    column = column_of(prediction, test)
    number = prediction.words[column].index(word)
    return float(prediction.word_p[row_of(prediction, cause), column, number])

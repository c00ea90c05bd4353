"""Text in, (rule, line, column) out."""

from faultkit.loading.compose import YamlLoader
from faultkit.loading.load import Loaded, load_texts
from faultkit.vocabulary.machine import Machine

BASE = """\
machine: Small hoist
says: For tests of the loader.
version: "1"
supply: 400 V 3~ 50 Hz; control 110 V AC
places:
  panel: {says: Control panel}
  pendant: {says: Pendant, minutes: 2 min}
  hoist: {says: Hoist, minutes: 6 min}
settings:
  hook: {says: Hook, positions: [lower, middle, upper, over], rests: middle}
  load: {says: Load, positions: {empty: 0, rated: 100, over: 118}}
conditions:
  isolated: {says: Isolated, set: {-Q0: off}, dead: yes, isolating: 8 min, restoring: 3 min}
  ready: {says: Control on, press: [-S1]}
  up-slow: {says: Up held, after: ready, hold: [-S2 step 1]}
devices:
  -Q0: {kind: selector, contacts: {main: 3}}
  -S1: {kind: button, place: pendant, contacts: {13-14: no}}
  -S2: {kind: button, place: pendant, steps: 2, contacts: {13-14: no, 23-24: {form: no, step: 2}}}
  -Q2: {kind: contactor, says: hoist up, contacts: {main: 3, 13-14: no, 21-22: nc}}
  -B1: {kind: limit switch, place: hoist, safety: yes,
        contacts: {21-22: {form: nc, acts: {hook: upper .. over}}}}
  -Y1: {kind: brake, place: hoist}
  -X1: {kind: terminals}
  -X3: {kind: terminals, place: pendant}
  -W1: {kind: cable, from: -X1, to: -X3, cores: [14, 15], length: 20 m}
wires:
  "14": [-X1:14, -X3:14, -S2:13]
  15: [-X1:15, -X3:15, -S2:14]
  16: [-X1:16, -Q2:A1]
  N: [-Q2:A2, -X1:N]
symptoms:
  no-up: {says: UP does nothing, works: UP works, when: up-slow, sees: {-Q2: [out, drops again]}}
  slips: {says: The load slips, works: The load holds}
tests:
  up-coil: {does: Measure across the coil, meter: V AC, between: [-Q2:A1, -Q2:A2], in: up-slow}
  air-gap: {does: Measure the air gap, meter: mm, in: isolated, healthy: 0.3 .. 0.6}
  smell: {does: Smell at the brake, meter: words, words: [none, burnt], healthy: none, in: isolated}
causes:
  lining: {device: -Y1, says: Lining worn, weight: 4, remedy: Y1.lining, symptoms: {slips: 90 %}}
remedies:
  Y1.lining: {says: Replace the lining, place: hoist, minutes: 60 min}
"""

Found = list[tuple[str, int, int]]


def loaded(*texts: str | bytes, loader: YamlLoader | None = None) -> Loaded:
    """Load a machine made of these files, called 1.yaml, 2.yaml, ..."""
    contents = [(f"{number}.yaml", text if isinstance(text, bytes) else text.encode())
                for number, text in enumerate(texts, start=1)]
    return load_texts(contents, "folder", "folder", loader)


def machine(*texts: str) -> Machine:
    """Machine of these files beside the base; fails with the problems where there are any."""
    result = loaded(BASE, *texts)
    assert result.machine is not None, result.problems
    return result.machine


def found(text: str | bytes, loader: YamlLoader | None = None) -> Found:
    """Errors and warnings of a file that is loaded beside the base."""
    return [(problem.rule, problem.origin.line, problem.origin.column)
            for problem in loaded(BASE, text, loader=loader).problems
            if problem.origin.file == "2.yaml"]


def alone(text: str | bytes, loader: YamlLoader | None = None) -> Found:
    """Errors and warnings of a file that is loaded by itself."""
    return [(problem.rule, problem.origin.line, problem.origin.column)
            for problem in loaded(text, loader=loader).problems]


def where(text: str) -> tuple[int, int]:
    """Line and column, from 1, of a piece of text in the base."""
    assert BASE.count(text) == 1, text
    before = BASE[: BASE.index(text)]
    return before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1

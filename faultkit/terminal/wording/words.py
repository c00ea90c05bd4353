"""Figures and names as words: minutes, chances, meters, readings, suspects."""

from dataclasses import dataclass

from faultkit.job.records import Assessment, Outcome, Suspect, carrying
from faultkit.vocabulary.diagnosis import Reading, Test
from faultkit.vocabulary.machine import Condition, Machine, Step
from faultkit.vocabulary.quantities import show_reading
from faultkit.vocabulary.says import cause_says, with_device

METERS = {
    "V AC": "V AC",
    "V DC": "V DC",
    "V AC low": "V AC, low-impedance input",
    "V DC low": "V DC, low-impedance input",
    "ohm": "Ω",
    "mA": "mA, in series",
    "clamp A": "clamp, A AC",
    "Mohm": "MΩ at 500 V",
    "seconds": "stopwatch, s",
    "mm": "gauge, mm",
    "Hz": "Hz",
    "words": "look, listen, feel",
}

NOTHING_DESCRIBED = "something not described here, or no fault"


@dataclass(frozen=True, slots=True)
class Glyphs:
    """Signs that some terminals cannot draw, and what stands for them."""

    full: str
    empty: str
    line: str
    up: str
    down: str
    more: str
    here: str
    dot: str


PRETTY = Glyphs(full="█", empty="·", line="─", up="▲", down="▼", more="…", here="▸", dot="·")
ASCII = Glyphs(full="#", empty=".", line="-", up="+", down="-", more="..", here=">", dot="-")


def minutes(value: float) -> str:
    """Minutes as a hand would write them."""
    if value < 9.5 and abs(value - round(value)) > 0.05:
        return f"{value:.1f} min"
    return f"{value:.0f} min"


def bar(share: float, width: int, glyphs: Glyphs) -> str:
    """A bar of text for a probability in [0, 1]; anything above zero shows at least one cell."""
    filled = min(width, max(1 if share > 0.005 else 0, round(share * width)))
    return glyphs.full * filled + glyphs.empty * (width - filled)


def moved(suspect: Suspect, glyphs: Glyphs) -> str:
    """How a suspect moved with the last entry, in points of percent; empty for hardly."""
    points = round((suspect.probability - suspect.before) * 100)
    if points == 0:
        return ""
    return f"{glyphs.up if points > 0 else glyphs.down}{abs(points)}"


def reading_text(test: Test, reading: Reading) -> str:
    """A reading as it would stand on the meter."""
    return show_reading(reading, test.meter)


def suspect_says(suspect: Suspect) -> str:
    """A suspect in words."""
    return with_device(suspect.device, suspect.says)


def outcome_says(machine: Machine, outcome: Outcome, room: int = 3) -> str:
    """What a reading would mean: how many causes stay, and the likeliest of them."""
    if not outcome.points_to:
        return "points to nothing described here"
    first = "; ".join(cause_says(machine, one) for one in outcome.points_to[:room])
    if outcome.keeps <= 1:
        return first
    return f"{outcome.keeps} left: {first}"


def step_says(step: Step) -> str:
    """One action on the way into a condition."""
    if step.kind == "wait":
        return f"wait {step.seconds:g} s"
    if step.kind == "set":
        return f"set {step.target} to {step.value}"
    verb = {"press": "press", "hold": "hold", "release": "let go of"}[step.kind]
    stage = f" step {step.value}" if step.value not in ("", "1") else ""
    return f"{verb} {step.target}{stage}"


def condition_how(machine: Machine, condition: Condition) -> str:
    """How to bring a condition about, from rest."""
    chain = [condition]
    while (after := chain[-1].after) is not None:
        chain.append(machine.conditions[after])
    return ", ".join(step_says(step) for one in reversed(chain) for step in one.steps)


def complaint_says(machine: Machine, told: tuple[tuple[str, bool], ...]) -> str:
    """The complaint in one line."""
    parts = [machine.symptoms[s].says if shows else machine.symptoms[s].works
             for s, shows in told]
    return "; ".join(parts) if parts else "no complaint entered"


def test_says(machine: Machine, test: Test) -> str:
    """A test in a list: what to do, and in which state of the machine."""
    return f"{test.does} [{machine.conditions[test.condition].says}]"


def test_short(machine: Machine, test: Test) -> str:
    """A test in few characters: meter, points and condition by their marks."""
    if test.between is not None:
        back = "" if test.generated else f" / {test.between[1]}"
        what = f"{test.meter} {test.between[0]}{back}"
    elif test.through is not None:
        what = f"{test.meter} at {test.through}"
    elif test.sees is not None:
        what = f"look {test.sees}"
    else:
        what = test.does
    return f"{what} {machine.conditions[test.condition].id}"


def left_says(assessment: Assessment) -> str:
    """How far the search has come, in a few words."""
    likely = carrying(s.probability for s in assessment.suspects)
    return "1 suspect" if likely == 1 else f"{likely} suspects"

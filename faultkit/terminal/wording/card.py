"""What to do now, as a card of short lines."""

import math
from dataclasses import dataclass

from faultkit.job.records import Suggestion
from faultkit.terminal.wording.cautions import cautions_for_test
from faultkit.terminal.wording.words import METERS, condition_how, minutes
from faultkit.vocabulary.diagnosis import Reading, Test
from faultkit.vocabulary.machine import Machine
from faultkit.vocabulary.quantities import show_reading


@dataclass(frozen=True, slots=True)
class Card:
    """One test, ready to be done."""

    does: str
    state: str
    """The condition in words."""
    how: str
    """How to bring it about, or that the machine is in it already; may be empty."""
    place: str
    time: str
    meter: str
    red: str
    black: str
    cautions: tuple[str, ...]


def card_of(
    machine: Machine, test: Test, suggestion: Suggestion | None, coming_from: str | None,
) -> Card:
    """Put together what the electrician needs for one test.

    Parameters
    ----------
    machine : Machine
    test : Test
    suggestion : Suggestion or None
        Its cost and outcomes, where worked out.
    coming_from : str or None
        Condition the machine is in now.
    """
    condition = machine.conditions[test.condition]
    place = machine.places.get(test.place)
    red, black = test.between or (test.through or "", "")
    return Card(
        does=test.does,
        state=condition.says,
        how=("as it is now" if coming_from == test.condition
             else condition_how(machine, condition)),
        place=place.says if place else test.place,
        time=time_says(suggestion) if suggestion else minutes(test.minutes),
        meter=METERS[test.meter] + range_says(test, suggestion),
        red=red,
        black=black,
        cautions=cautions_for_test(machine, test, coming_from),
    )


def time_says(suggestion: Suggestion) -> str:
    """The minutes of a test, with what of them is walking and switching."""
    parts = []
    if suggestion.travel >= 0.05:
        parts.append(f"{minutes(suggestion.travel)} walking")
    if suggestion.changing >= 0.05:
        parts.append(f"{minutes(suggestion.changing)} switching")
    return minutes(suggestion.minutes) + (f" ({', '.join(parts)})" if parts else "")


def range_says(test: Test, suggestion: Suggestion | None) -> str:
    """The range to set, from the highest reading that may come; empty where unknown."""
    if test.meter == "words" or suggestion is None:
        return ""
    ends = [end for one in suggestion.outcomes for end in (one.low, one.high)
            if math.isfinite(end)]
    top = max(ends, default=0.0)
    if top <= 0:
        return ""
    return f", range above {show_reading(Reading(_rounded_up(top)), test.meter)}"


def _rounded_up(value: float) -> float:
    """The next figure with two leading digits, so that a range reads like one."""
    step = 10.0 ** (math.floor(math.log10(value)) - 1)
    return float(f"{math.ceil(value / step - 1e-9) * step:.6g}")

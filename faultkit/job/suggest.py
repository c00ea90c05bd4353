"""A test worth taking, in words: what each reading would mean, and why this test."""

import numpy as np

from faultkit.belief import Hypotheses
from faultkit.choice import BINS, Decision, Situation
from faultkit.job.records import Outcome, Suggestion, carrying
from faultkit.prediction.table import Floats
from faultkit.vocabulary.diagnosis import Reading
from faultkit.vocabulary.quantities import show_reading

LIKELY = 0.01
"""Share from which on a cause counts as likely."""
NEGLIGIBLE = 5e-4
"""Outcomes less probable than this are not listed."""
RULED_OUT = 0.1
"""A cause is ruled out when less than this part of its probability is left."""


def suggest(now: Situation, space: Hypotheses, decision: Decision, column: int) -> Suggestion:
    """Suggestion of one test; `column` counts in the situation's tests."""
    outcomes = _outcomes(now, space, column)
    return Suggestion(
        test=now.first[column],
        minutes=float(now.minutes[column]),
        travel=float(now.travel[column]),
        changing=float(now.changing[column]),
        gain_bits=float(decision.gain[column]),
        plan_minutes=float(decision.plan[column]),
        outcomes=outcomes,
        why=_why(now, space, outcomes, column),
    )


def _outcomes(now: Situation, space: Hypotheses, column: int) -> tuple[Outcome, ...]:
    cast = now.forecast
    p = cast.noisy(column)
    chance = now.weight @ p
    made = []
    names = _names(space)
    prior = _by_suspect(now, space, now.weight)
    by_before = np.argsort(-prior, kind="stable")
    suspected = carrying(prior.tolist())
    for k in np.flatnonzero(chance >= NEGLIGIBLE).tolist():
        after = now.weight * p[:, k] / chance[k]
        reading, low, high = _reading(now, space, column, k, after)
        posterior = _by_suspect(now, space, after)
        by_after = np.argsort(-posterior, kind="stable")
        made.append(Outcome(
            reading=reading, low=low, high=high, probability=float(chance[k]),
            keeps=min(carrying(posterior.tolist()), suspected),
            points_to=tuple(names[i] for i in by_after[:3] if posterior[i] >= LIKELY),
            rules_out=tuple(names[i] for i in by_before if prior[i] >= LIKELY
                            and posterior[i] < RULED_OUT * prior[i])[:3],
        ))
    return tuple(made)


def _names(space: Hypotheses) -> list[str]:
    causes = space.prediction.causes
    return [" + ".join(causes[c].id for c in s.causes) for s in space.suspects]


def _by_suspect(now: Situation, space: Hypotheses, weight: Floats) -> Floats:
    rows = np.zeros(space.prior.size)
    rows[now.forecast.rows] = weight
    return space.by_suspect(rows)


def _reading(now: Situation, space: Hypotheses, column: int, outcome: int,
             after: Floats) -> tuple[str, float, float]:
    """Words, low and high of one outcome."""
    cast = now.forecast
    test = space.prediction.tests[int(cast.tests[column])]
    words = space.prediction.words[int(cast.tests[column])]
    if words:
        return words[outcome], np.nan, np.nan
    if outcome == BINS:
        return "OL", np.inf, np.inf
    borders = [-np.inf, *cast.cuts[column], np.inf]
    low, high = float(borders[outcome]), float(borders[outcome + 1])
    mean, spread = cast.mean[:, column], cast.spread[:, column]
    inside = np.isfinite(mean) & (mean >= low) & (mean <= high)
    if not inside.any():
        inside = np.isfinite(mean)
    if not inside.any():
        return "any number", low, high
    low = max(low, float((mean - 3.0 * spread)[inside].min()))
    high = min(high, float((mean + 3.0 * spread)[inside].max()))
    if test.meter != "V DC" and test.meter != "V DC low":
        low = max(low, 0.0)
    lowest, highest = float(mean[inside].min()), float(mean[inside].max())
    def text(value: float) -> str:
        return show_reading(Reading(float(f"{value:.2g}")), test.meter)
    if low <= 0.0 and highest <= 0.1 * max(high, float(np.nanmax(np.abs(mean[np.isfinite(mean)])))):
        return f"below {text(high)}", low, high
    if highest - lowest <= 0.1 * abs(highest):
        middle = float(np.average(mean[inside], weights=after[inside] + 1e-12))
        return f"about {show_reading(Reading(float(f'{middle:.3g}')), test.meter)}", low, high
    return f"{text(lowest)} to {text(highest)}", low, high


def _why(now: Situation, space: Hypotheses, outcomes: tuple[Outcome, ...], column: int) -> str:
    """One sentence: how it splits the suspects, and what is near at hand."""
    machine = space.prediction.machine
    test = machine.tests[now.first[column]]
    aimed = space.prediction.tests[int(now.forecast.tests[column])]
    if aimed.id != test.id:
        return f"It must come before: {aimed.does}."
    ranked = sorted(outcomes, key=lambda o: -o.probability)
    split = " : ".join(f"{round(100 * o.probability)}" for o in ranked[:3]
                       if o.probability >= 0.005)
    sentence = f"It splits the suspects {split}" if len(ranked) > 1 else "It tells little"
    if ranked and len(ranked) > 1:
        sentence += f" ({ranked[0].reading} leaves {_count(ranked[0].keeps)})"
    place, condition = machine.places[test.place].says, machine.conditions[test.condition].says
    if now.travel[column] == 0.0 and now.changing[column] == 0.0:
        return f"{sentence}; you are there and nothing needs to be switched."
    if now.travel[column] == 0.0:
        return f"{sentence}; you are at the place, and the condition is: {condition}."
    if now.changing[column] == 0.0:
        return f"{sentence}; nothing needs to be switched, but go to: {place}."
    return f"{sentence}; go to: {place}, and bring about: {condition}."


def _count(number: int) -> str:
    return "1 suspect" if number == 1 else f"{number} suspects"

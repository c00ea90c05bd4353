"""Two faults at once: brought in when every single cause fits badly, most probable first.

What a pair reads is computed by the circuit, not guessed from its two causes. Only which pairs
are worth computing is guessed: each reading is as the one cause that moves it has it. A pair
whose faults act on each other otherwise can be missed.
"""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from faultkit.belief.hypotheses import Hypotheses, Suspected
from faultkit.belief.posterior import Belief, Taken, Told, weigh
from faultkit.prediction.table import Floats, Ints, PairRows, PredictPairs

SECOND = 0.02
"""Probability that a machine with one fault has a second, independent one (common practice,
no source)."""
UNEXPLAINED = 0.25
"""Probability of an unknown fault from which on pairs are considered."""
DOUBTFUL = 0.3
"""Probability that a reading is wrong from which on pairs are considered."""
HARDLY_LESS = 1.0
"""A reading within this log ratio of the best explanation is as on the healthy machine."""
LOOKED_AT = 16
"""Pairs computed on the readings taken."""
KEPT = 8
"""Pairs kept, computed on all tests."""


def fits_badly(belief: Belief) -> bool:
    """Whether single causes leave something unexplained."""
    return belief.unknown > UNEXPLAINED or any(wrong > DOUBTFUL for wrong in belief.wrong)


def with_pairs(space: Hypotheses, told: Told, taken: Taken, predict: PredictPairs) -> Hypotheses:
    """The single causes and the pairs that explain what was told and measured best."""
    singles = weigh(space, told, taken)
    likely = likely_pairs(space, singles, told, taken, LOOKED_AT)
    tests = sorted({space.test_index[test] for test, _ in taken})
    wide = _joined(space, predict(likely, tests))
    if wide is space:
        return space
    belief = weigh(wide, told, taken)
    first = len(space.suspects)
    best = np.argsort(-belief.suspects[first:], kind="stable")[:KEPT]
    kept = [_two(wide.suspects[first + int(i)]) for i in best]
    return _joined(space, predict(kept, range(len(space.prediction.tests))))


def likely_pairs(space: Hypotheses, singles: Belief, told: Told, taken: Taken,
                 number: int) -> list[tuple[int, int]]:
    """The pairs with the highest guess at prior times likelihood, best first."""
    level = int(np.exp(singles.log_joint - singles.log_joint.max()).sum(axis=0).argmax())
    count, owner = len(space.suspects), space.suspect[:-1]
    prior = np.log(space.by_suspect(space.prior))
    guess = prior[:, np.newaxis] + prior[np.newaxis, :]
    for weight, (test, _) in zip(singles.weights, taken, strict=True):
        says = _best_variant(weight.log[:-1, level], owner, count)
        moves = np.zeros(count, dtype=np.bool_)
        moves[owner[space.moved[:-1, space.test_index[test]]]] = True
        fine = bool(weight.healthy[level] >= says.max() - HARDLY_LESS)
        guess = guess + _together(says, moves, fine)
    for name in sorted(singles.told):
        says = _best_variant(singles.told[name][:-1], owner, count)
        shows = space.explains[:-1, space.symptom_index[name]] > 0.5
        moves = np.zeros(count, dtype=np.bool_)
        moves[owner[shows]] = True
        guess = guess + _together(says, moves, not told[name])
    first, second = np.triu_indices(count, k=1)
    order = np.argsort(-guess[first, second], kind="stable")[:number]
    return [(int(first[i]), int(second[i])) for i in order]


def _together(says: Floats, moves: NDArray[np.bool_], fine: bool) -> Floats:
    """(causes, causes) log probability of one reading under two causes at once, guessed.

    A reading that only one of them moves is as that one has it, one that neither moves is
    healthy under both. What both move is left to the better one, unless it is `fine`: then
    both must let it be.
    """
    one, other = says[:, np.newaxis], says[np.newaxis, :]
    first, second = moves[:, np.newaxis], moves[np.newaxis, :]
    both = np.minimum(one, other) if fine else np.maximum(one, other)
    return np.where(first, np.where(second, both, one), other)


def _best_variant(log: Floats, owner: Ints, count: int) -> Floats:
    best = np.full(count, -np.inf)
    np.maximum.at(best, owner, log)
    return best


def _two(suspect: Suspected) -> tuple[int, int]:
    first, second = suspect.causes
    return first, second


def _joined(space: Hypotheses, pairs: PairRows) -> Hypotheses:
    if not pairs.owner:
        return space
    single = space.by_suspect(space.prior)
    known = single.sum()
    order: list[tuple[int, int]] = sorted(set(pairs.owner))
    place = {pair: len(space.suspects) + i for i, pair in enumerate(order)}
    prior = np.array([SECOND * 2.0 * single[a] * single[b] / known * share
                      for (a, b), share in zip(pairs.owner, pairs.share, strict=True)])
    away = space.prediction.causes
    # the machine reads as healthy only while both faults are away
    intermittent = [away[a].intermittent * away[b].intermittent for a, b in pairs.owner]
    whole = np.concatenate([space.prior[:-1], prior, space.prior[-1:]])
    value, level, sigma, word_p = _spread(pairs, space)
    return replace(
        space,
        suspects=(*space.suspects, *(Suspected(pair) for pair in order)),
        suspect=np.concatenate([space.suspect[:-1], [place[p] for p in pairs.owner], [-1]]),
        prior=whole / whole.sum(),
        intermittent=np.append(space.intermittent, intermittent),
        explains=_between(space.explains, pairs.symptom_p),
        value=_between(space.value, value),
        level=_between(space.level, level),
        sigma=_between(space.sigma, sigma),
        word_p=_between(space.word_p, word_p),
        moved=np.concatenate([space.moved[:-1], np.ones(value.shape, dtype=np.bool_),
                              space.moved[-1:]]),
    )


def _between(rows: Floats, more: Floats) -> Floats:
    """Rows with more of them before the last one."""
    return np.concatenate([rows[:-1], more, rows[-1:]])


def _spread(pairs: PairRows, space: Hypotheses) -> tuple[Floats, Floats, Floats, Floats]:
    """Value, level, sigma (P, T) and word_p (P, T, W), nan where a test was not asked for."""
    count, tests, words = len(pairs.owner), len(space.scales), space.word_p.shape[2]
    value = np.full((count, tests), np.nan)
    level, sigma = np.zeros((count, tests)), np.ones((count, tests))
    word_p = np.zeros((count, tests, words))
    value[:, pairs.tests], level[:, pairs.tests] = pairs.value, pairs.level
    sigma[:, pairs.tests], word_p[:, pairs.tests] = pairs.sigma, pairs.word_p
    return value, level, sigma, word_p

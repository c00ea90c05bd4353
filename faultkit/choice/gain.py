"""Expected information of every test about the remedy.

For remedies that only one row calls for, the sum over rows is a product with a precomputed
table of entropies, so all tests cost two products of a vector with a table:
`H(p_o) - w . H_c`. Rows that share a remedy are added up before their entropy is taken,
which is what makes the gain one about remedies and not about causes.
"""

from dataclasses import dataclass

import numpy as np

from faultkit.prediction.table import Floats, Ints


@dataclass(frozen=True, slots=True, eq=False)
class GainTable:
    """Outcome probabilities prepared for gains. A rows, T tests, K outcomes."""

    p: Floats
    """(A, T * K)"""
    entropy: Floats
    """(A, T) bits of each row's own outcomes."""
    single: Ints
    """Rows whose group has no other row."""
    shared: Ints
    """The others, sorted by group."""
    starts: Ints
    """Where each group begins in `shared`."""
    outcomes: int


def gain_table(p: Floats, group: Ints) -> GainTable:
    """Prepare `p` (A, T, K) for rows whose remedy is `group` (A,)."""
    count = np.bincount(group, minlength=1)
    alone = count[group] == 1
    shared = np.flatnonzero(~alone)
    shared = shared[np.argsort(group[shared], kind="stable")]
    sorted_group = group[shared]
    starts = np.flatnonzero(np.append(True, sorted_group[1:] != sorted_group[:-1])[:shared.size])
    return GainTable(
        p=np.ascontiguousarray(p.reshape(p.shape[0], -1)),
        entropy=-xlog2x(p).sum(axis=2),
        single=np.flatnonzero(alone),
        shared=shared,
        starts=starts,
        outcomes=p.shape[2],
    )


def gains(table: GainTable, weight: Floats) -> Floats:
    """(T,) expected information of each test about the group, in bits.

    Parameters
    ----------
    table : GainTable
    weight : (A,)
        Probability of each row; sums to 1.
    """
    outcome = (weight @ table.p).reshape(-1, table.outcomes)
    total = -xlog2x(outcome).sum(axis=1)
    left = weight[table.single] @ table.entropy[table.single]
    if table.shared.size:
        joint = weight[table.shared, np.newaxis] * table.p[table.shared]
        joint = np.add.reduceat(joint, table.starts, axis=0)
        sums = np.add.reduceat(weight[table.shared], table.starts)
        bits = xlog2x(joint).reshape(joint.shape[0], -1, table.outcomes).sum(axis=(0, 2))
        left = left + xlog2x(sums).sum() - bits
    return np.asarray(np.maximum(total - left, 0.0))


def xlog2x(x: Floats) -> Floats:
    """Elementwise x log2 x, 0 at 0."""
    return np.asarray(x * np.log2(np.maximum(x, np.finfo(np.float64).tiny)))

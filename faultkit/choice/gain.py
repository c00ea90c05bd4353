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
    """Outcome probabilities prepared for gains. A rows, T tests, C outcomes of all tests."""

    p: Floats
    """(A, C) outcomes that some row can give, test after test."""
    begins: Ints
    """(T + 1,) where the outcomes of each test begin, and the end."""
    entropy: Floats
    """(A, T) bits of each row's own outcomes."""
    single: Ints
    """Rows whose group has no other row."""
    shared: Ints
    """The others, sorted by group."""
    starts: Ints
    """Where each group begins in `shared`."""


def gain_table(p: Floats, group: Ints) -> GainTable:
    """Prepare `p` (A, T, K), summing to 1 over K, for rows whose remedy is `group` (A,)."""
    used = p.any(axis=0)
    begins = np.concatenate([[0], np.cumsum(used.sum(axis=1))])
    return _prepared(np.ascontiguousarray(p[:, used]), begins, -xlog2x(p).sum(axis=2), group)


def narrowed(table: GainTable, rows: Ints, group: Ints) -> GainTable:
    """The same for some of the rows, whose remedy is `group`."""
    return _prepared(table.p[rows], table.begins, table.entropy[rows], group)


def _prepared(p: Floats, begins: Ints, entropy: Floats, group: Ints) -> GainTable:
    alone = np.bincount(group, minlength=1)[group] == 1
    shared = np.flatnonzero(~alone)
    shared = shared[np.argsort(group[shared], kind="stable")]
    change = np.diff(group[shared], prepend=-1) != 0
    return GainTable(p, begins, entropy, np.flatnonzero(alone), shared, np.flatnonzero(change))


def gains(table: GainTable, weight: Floats) -> Floats:
    """(T,) expected information of each test about the group, in bits.

    Parameters
    ----------
    table : GainTable
    weight : (A,)
        Probability of each row; sums to 1.
    """
    if table.begins.size < 2:
        return np.zeros(0)
    total = -np.add.reduceat(xlog2x(weight @ table.p), table.begins[:-1])
    left = weight[table.single] @ table.entropy[table.single]
    if table.shared.size:
        joint = weight[table.shared, np.newaxis] * table.p[table.shared]
        joint = np.add.reduceat(joint, table.starts, axis=0)
        sums = np.add.reduceat(weight[table.shared], table.starts)
        bits = np.add.reduceat(xlog2x(joint).sum(axis=0), table.begins[:-1])
        left = left + xlog2x(sums).sum() - bits
    return np.asarray(np.maximum(total - left, 0.0))


def xlog2x(x: Floats) -> Floats:
    """Elementwise x log2 x, 0 at 0."""
    return np.asarray(x * np.log2(np.maximum(x, np.finfo(np.float64).tiny)))

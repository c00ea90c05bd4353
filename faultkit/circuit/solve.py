"""Solving the network: a bank of inverses, and low-rank changes from the nearest one.

The matrix has Kirchhoff's balance for the nodes on top and one row per branch below (see
`elements`). States of contacts and faults alike replace branch rows. If a wanted set of rows
differs from a set whose inverse is at hand in k rows, then

    M' = M + U D,   x' = x0 - Z (1 + D Z)^-1 D x0,   Z = M^-1 U

with U picking the k rows and D their differences (Woodbury). With the branch currents as
unknowns this keeps about 1e-7 V even at floating nodes.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from faultkit.circuit.elements import EARTH
from faultkit.circuit.network import Complex, Network
from faultkit.errors import CircuitError

NEAR = 16
"""Number of differing rows up to which an inverse is altered instead of made anew."""
CODE = (0.8414709848078965 + 0.5403023058681398j, 1.4112000805986722 - 0.9899924966004454j,
        2.7568024953079282 + 1.6536436208636119j)
"""Weights that turn a row into one number."""
KEPT = 48
"""Inverses kept; the oldest goes first."""
LOSSY = 1e-5
"""Step of refinement in V above which an altered inverse is not trusted."""

SINGULAR = 1e15
"""Entry of an inverse, in V per A and the like, that only rounding brings about: a floating node
has 1e8, the inverse of its leak."""


@dataclass(slots=True, eq=False)
class Alteration:
    """How an inverse was altered for k differing rows."""

    picked: Complex
    """(N + 1, k) Z."""
    core: Complex
    """(k, k) (1 + D Z)^-1."""
    difference: Complex
    """(k, N) D."""

    def correct(self, x: Complex) -> Complex:
        """Return the solution (N + 1,) of the altered network from that of the kept one."""
        moved = self.picked @ (self.core @ (self.difference @ x[:-1]))
        return np.asarray(x - moved)


@dataclass(slots=True, eq=False)
class Solution:
    """One solved state: voltages and currents, and what a meter between two nodes sees."""

    x: Complex
    """(N + 1) node voltages in V, branch currents in A, and 0 for earth."""
    inverse: Complex
    """(N + 1, N + 1) of the nearest state; last row and column zero."""
    alteration: Alteration | None

    def respond(self, first: int, places: NDArray[np.int64], values: Complex) -> Complex:
        """Return the solution for other right-hand sides in rows `first + places`."""
        x = np.asarray(self.inverse[:, first + places] @ values)
        return x if self.alteration is None else self.alteration.correct(x)

    def thevenin(self, a: NDArray[np.int64], b: NDArray[np.int64]) -> Complex:
        """Return the impedance in ohms between pairs of columns, shape (P,)."""
        m = self.inverse
        z = m[a, a] - m[a, b] - m[b, a] + m[b, b]
        if self.alteration is None:
            return np.asarray(z)
        injected = m[:-1, a] - m[:-1, b]
        seen = self.alteration.picked[a] - self.alteration.picked[b]
        moved = self.alteration.core @ (self.alteration.difference @ injected)
        return np.asarray(z - np.einsum("pk,kp->p", seen, moved))


def inverse_of(matrix: Complex) -> Complex | None:
    """Return the inverse; None if there is none, or none but for rounding."""
    try:
        inverse = np.asarray(np.linalg.inv(matrix), dtype=complex)
    except np.linalg.LinAlgError:
        return None
    return inverse if np.abs(inverse).max(initial=0.0) < SINGULAR else None


class Solver:
    """Solves one network for any rows of its branches."""

    def __init__(self, network: Network) -> None:
        self.network = network
        self._keys: list[Complex] = []
        self._inverses: list[Complex] = []
        self._codes = np.zeros((KEPT + 1, len(network.branches)), dtype=complex)
        self._with_extra = np.flatnonzero(network.extra.any(axis=1))
        self.made = 0
        """Inverses made so far."""
        self.solves = 0
        """Solutions given so far."""

    def matrix(self, rows: Complex) -> Complex:
        """Return the (N, N) matrix for rows of shape (B, 4)."""
        net = self.network
        size = len(net.branches)
        low = rows[:, 0, None] * net.plain + rows[:, 3, None] * net.extra
        low[np.arange(size), net.count + np.arange(size)] -= rows[:, 1]
        return np.vstack([net.balance, low])

    def solve(self, rows: Complex) -> Solution:
        """Solve for branch rows of shape (B, 4): alpha, beta, gamma, eps.

        Raises
        ------
        CircuitError
            If the network has no single answer.
        """
        self.solves += 1
        key = rows[:, (0, 1, 3)]
        which, differing = self._nearest(key)
        inverse = self._inverses[which]
        first = self.network.count
        x0 = self._fed(which, rows)
        if not len(differing):
            return Solution(x0, inverse, None)
        step = key[differing] - self._keys[which][differing]
        net = self.network
        d = step[:, 0, None] * net.plain[differing] + step[:, 2, None] * net.extra[differing]
        d[np.arange(len(differing)), first + differing] -= step[:, 1]
        z = inverse[:, first + differing]
        core = inverse_of(np.eye(len(differing)) + d @ z[:-1])
        if core is None:  # inverting the state itself says what is wrong with it
            which = self._keep(key)
            return Solution(self._fed(which, rows), self._inverses[which], None)
        alteration = Alteration(z, core, d)
        return Solution(alteration.correct(x0), inverse, alteration)

    def _fed(self, which: int, rows: Complex) -> Complex:
        """Return what the sources in `rows` cause by a kept inverse."""
        fed = np.nonzero(rows[:, 2])[0]
        return np.asarray(self._inverses[which][:, self.network.count + fed] @ rows[fed, 2])

    def refine(self, solution: Solution, rows: Complex) -> Solution:
        """Return the solution after one step of iterative refinement, for what is measured.

        A large step tells that the altered inverse has lost its digits: closing both ends of a
        piece that floats in the kept state takes the small difference of two large numbers, and
        refining with the same inverse does not bring them back. Then the state is inverted anew.
        """
        residual = self._residual(solution.x, rows)
        y = np.asarray(solution.inverse[:, :-1] @ residual)
        if solution.alteration is not None:
            y = solution.alteration.correct(y)
            if np.abs(y[:self.network.count]).max() > LOSSY:
                which = self._keep(rows[:, (0, 1, 3)])
                return Solution(self._fed(which, rows), self._inverses[which], None)
        return Solution(solution.x + y, solution.inverse, solution.alteration)

    def _residual(self, x: Complex, rows: Complex) -> Complex:
        """Return (N,) right-hand side less matrix times solution, without the matrix."""
        net, some = self.network, self._with_extra
        across = x[net.ends[:, 0]] - x[net.ends[:, 1]]
        low = rows[:, 0] * across - rows[:, 1] * x[net.count:-1] - rows[:, 2]
        low[some] += rows[some, 3] * (net.extra[some] @ x[:-1])
        return -np.concatenate([net.balance @ x[:-1], low])

    def _nearest(self, key: Complex) -> tuple[int, NDArray[np.int64]]:
        """Return the number of the nearest kept inverse and the rows that differ from it."""
        code = self._code(key)
        best = -1
        if self._keys:
            differs = self._codes[:len(self._keys)] != code
            best = int(differs.sum(axis=1).argmin())
            rows = np.flatnonzero(differs[best])
            if len(rows) <= NEAR:
                return best, rows
        return self._keep(key), np.zeros(0, dtype=np.int64)

    def _code(self, key: Complex) -> Complex:
        """Return (B,) one number per row, so that states are compared at one stroke.

        Three coefficients that differ give different numbers, but for a coincidence of all
        digits with these arbitrary weights.
        """
        one, two, three = CODE
        return np.asarray(key[:, 0] * one + key[:, 1] * two + key[:, 2] * three)

    def _keep(self, key: Complex) -> int:
        """Invert a state, keep its inverse and return its number.

        A state that cannot be inverted leaves nothing behind.
        """
        inverse = self._invert(key)
        self._codes[len(self._keys)] = self._code(key)
        self._keys.append(key.copy())
        self._inverses.append(inverse)
        if len(self._keys) > KEPT:
            del self._keys[1], self._inverses[1]
            self._codes[1:-1] = self._codes[2:]
        return len(self._keys) - 1

    def _invert(self, key: Complex) -> Complex:
        self.made += 1
        rows = np.zeros((len(key), 4), dtype=complex)
        rows[:, (0, 1, 3)] = key
        total = self.network.count + len(key)
        result = np.zeros((total + 1, total + 1), dtype=complex)
        inverse = inverse_of(self.matrix(rows))
        if inverse is None:
            raise CircuitError(self._reason(key), "Check the wiring of these devices.")
        result[:-1, :-1] = inverse
        return result

    def _reason(self, key: Complex) -> str:
        """Name the devices whose equations contradict each other or say the same twice."""
        rows = np.zeros((len(key), 4), dtype=complex)
        rows[:, (0, 1, 3)] = key
        _, _, v = np.linalg.svd(self.matrix(rows))
        size = np.abs(v[-1])
        net = self.network
        worst = [net.branches[k - net.count] for k in np.argsort(-size)
                 if k >= net.count and size[k] > 0.05 * size.max()][:4]
        ends = {end for branch in worst for end in (branch.a, branch.b)} - {EARTH}
        devices = sorted({end.split(":")[0].split("/")[0] for end in ends})
        return ("The network has no single answer: two sources or two connections without any "
                f"resistance meet at {', '.join(devices) or 'an unknown place'}.")

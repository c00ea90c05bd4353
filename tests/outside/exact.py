"""The network solved in 256-bit arithmetic: modified nodal equations, dense, no tricks.

Ho, Ruehli & Brennan, "The modified nodal approach to network analysis", IEEE Trans. Circuits
and Systems 22 (1975) 504-509. Unknowns: one voltage for each node, one current for each source,
each ideal wire and each transformer.
"""

from flint import acb, acb_mat, ctx

from tests.outside.network import (
    REFERENCE,
    Element,
    Impedance,
    Injection,
    Network,
    Source,
    Transformer,
)

BITS = 256


def solve_exactly(network: Network) -> dict[str, complex]:
    """Voltage of every node against the reference, in volt, rounded once at the end.

    Raises
    ------
    ZeroDivisionError
        The equations have no unique solution: an island floats, or sources are in a loop.
    """
    old = ctx.prec
    ctx.prec = BITS
    try:
        matrix, right, nodes = _equations(network)
        # ball arithmetic: each number carries a proved bound of its own error
        solution = matrix.solve(right, algorithm="lu")
        return {REFERENCE: 0j} | {
            node: _rounded(solution[row, 0]) for node, row in nodes.items()
        }
    finally:
        ctx.prec = old


def _rounded(number: acb) -> complex:
    assert float(number.real.rad()) + float(number.imag.rad()) < 1e-20
    return complex(float(number.real.mid()), float(number.imag.mid()))


def _equations(network: Network) -> tuple[acb_mat, acb_mat, dict[str, int]]:
    """Kirchhoff's current law at every node, then one law for each branch with a current."""
    nodes = {node: row for row, node in enumerate(network.nodes())}
    plain = [e for e in network.elements if isinstance(e, Impedance) and e.ohms]
    branches = [e for e in network.elements if not (isinstance(e, Impedance) and e.ohms)]
    size = len(nodes) + len(branches)
    matrix, right = acb_mat(size, size), acb_mat(size, 1)
    for element in plain:
        admittance = 1 / acb(element.ohms)
        ends = [(nodes[end], sign) for end, sign in ((element.a, 1), (element.b, -1))
                if end in nodes]
        for row, up in ends:
            for column, down in ends:
                matrix[row, column] += admittance * up * down
    for row, branch in enumerate(branches, start=len(nodes)):
        flows, law, own, volts = _law(branch)
        matrix[row, row] = own
        right[row, 0] = volts
        for node, value in flows.items():
            if node in nodes:
                matrix[nodes[node], row] += value
        for node, value in law.items():
            if node in nodes:
                matrix[row, nodes[node]] += value
    return matrix, right, nodes


def _law(branch: Element) -> tuple[dict[str, acb], dict[str, acb], acb, acb]:
    """What the current does at its nodes; the law `sum(law * v) + own * i = right`."""
    ends = {branch.a: acb(1), branch.b: acb(-1)}
    match branch:
        case Impedance():
            return ends, ends, acb(0), acb(0)
        case Source():
            return ends, ends, acb(0), acb(branch.volts)
        case Injection():
            return ends, {}, acb(1), acb(branch.amps)
        case Transformer():
            ratio = acb(branch.ratio)
            both = {branch.a: ratio, branch.b: -ratio}
            for node, sign in ((branch.c, acb(-1)), (branch.d, acb(1))):
                both[node] = both.get(node, acb(0)) + sign
            return both, both, acb(0), acb(0)

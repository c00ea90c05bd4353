"""Handing back in words: what is proved, what stands in the way, how a job can close."""

from faultkit.job.events import Closing
from faultkit.job.permit import unproved
from faultkit.job.records import JobState, Proof
from faultkit.vocabulary.machine import Machine

CLOSINGS: dict[Closing, str] = {
    "fit for use": "Fit for use",
    "not fit for use": "NOT fit for use: say why",
    "no fault found": "No fault found: say what was tried",
}
REASONS: dict[Closing, str] = {
    "fit for use": "", "not fit for use": "Why not", "no fault found": "What was tried"}

NO_LOAD = "No load first, nobody near hook, rope or drum; a hand on the emergency stop."
OUT = "Every jumper and test lead is out, the covers are on, your lock comes off last."
STILL_DEAD = "The machine is dead: press d to make it live again before you prove what moves."


def proof_mark(proof: Proof | None) -> str:
    """What is known of a safety function, by its sign."""
    if proof is None:
        return "[      ]"
    return "[PASSED]" if proof.passed else "[FAILED]"


def proof_says(proof: Proof) -> str:
    """Who proved it, and what was seen."""
    seen = f": {proof.seen}" if proof.seen else ", as expected"
    return f"{'Passed' if proof.passed else 'FAILED'}, {proof.who}{seen}"


def in_the_way(machine: Machine, state: JobState) -> tuple[str, ...]:
    """What keeps the machine from being handed over as fit for use."""
    found = []
    if state.danger:
        found.append("! The load was never landed or secured.")
    found += [f"! A bridge is still in: {where}" for where in state.bridges]
    failed = [p for p in state.proofs if not p.passed and p.function in machine.safety]
    found += [f"! Failed: {machine.safety[p.function].says}" for p in failed]
    bad = {p.function for p in failed}
    left = [machine.safety[name].says for name in unproved(state, machine) if name not in bad]
    if left:
        more = f", and {len(left) - 1} more" if len(left) > 1 else ""
        found.append(f"! Not proved: {left[0]}{more}")
    return tuple(found)

"""Which cautions apply to what the electrician is about to do.

faultkit advises; local codes and a qualified person decide.
"""

from faultkit.vocabulary.diagnosis import Remedy, Test
from faultkit.vocabulary.machine import Condition, Machine

FIVE_RULES = (
    "Switch off and isolate completely, on every side.",
    "Secure against switching on again: lock, tag, keep the key.",
    "Prove dead: check the tester on a live point, test, check the tester again.",
    "Earth and short-circuit where the risk asks for it.",
    "Cover or bar live parts nearby.",
)
"""The five steps before dead work, in their order (EN 50110-1; US practice: 29 CFR 1910.147)."""

LAND_FIRST = "Before isolating, land the load."
ISOLATE = "Isolate, lock, prove dead (five rules in the help)."
BACK_ON = "Before switching on: leads and tools out, everybody warned, your lock off last."
LIVE = "LIVE: only where local rules allow; meter and leads for CAT III."
MOVES = "The hoist may start: keep clear of hook, rope and drum."
HELD = "A second person holds the button ({}); agree on the sign to let go."
DEAD_ONLY = "Resistance: only dead; stored charge gone."
SERIES = "Current in series: isolate before you open the wire; leads back to V afterwards."
INSULATION = "500 V from the tester: take electronics off first, discharge afterwards."
NEVER = "Never bridge a limit, an overload device, a brake monitor or an emergency stop."
DECIDES = "faultkit advises. Local codes and a qualified person decide."

PROBED = ("V AC", "V DC", "V AC low", "V DC low", "Hz")


def cautions_for_test(machine: Machine, test: Test, coming_from: str | None) -> tuple[str, ...]:
    """Cautions that apply to one test, the most pressing first.

    Parameters
    ----------
    machine : Machine
    test : Test
    coming_from : str or None
        Condition the machine is in now; None when nothing was done yet.
    """
    condition = machine.conditions[test.condition]
    before = machine.conditions[coming_from] if coming_from else None
    found: list[str] = []
    if condition.dead and (before is None or not before.dead):
        found += [LAND_FIRST, ISOLATE]
    if not condition.dead and before is not None and before.dead:
        found.append(BACK_ON)
    if not condition.dead and test.meter in PROBED:
        found.append(LIVE)
    if not condition.dead and (held := _held(machine, condition)):
        found.append(MOVES)
        places = {machine.devices[one].place for one in held}
        if test.place not in places:
            found.append(HELD.format(machine.places[min(places)].says))
    if test.meter == "mA":
        found.append(SERIES)
    if test.meter == "Mohm":
        found.append(INSULATION)
    if test.meter == "ohm" and before is not None and before.dead:
        found.append(DEAD_ONLY)
    found += test.cautions
    for one in _chain(machine, condition):
        found += one.cautions
    return tuple(dict.fromkeys(found))


def cautions_for_remedy(remedy: Remedy) -> tuple[str, ...]:
    """Cautions that apply to a repair."""
    found: list[str] = []
    if remedy.dead:
        found += [LAND_FIRST, ISOLATE]
    found += remedy.cautions
    found.append(NEVER)
    return tuple(dict.fromkeys(found))


def _chain(machine: Machine, condition: Condition) -> list[Condition]:
    """The condition and those it comes after, nearest first."""
    chain = [condition]
    while (after := chain[-1].after) is not None:
        chain.append(machine.conditions[after])
    return chain


def _held(machine: Machine, condition: Condition) -> list[str]:
    """Buttons that are held while the test is made: with the supply on something may turn."""
    return [step.target for one in _chain(machine, condition) for step in one.steps
            if step.kind == "hold" and step.target in machine.devices]

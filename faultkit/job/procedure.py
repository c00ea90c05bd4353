"""The way into a safe condition and back, step by step.

Order: the five rules of EN 50110-1 (from memory): disconnect completely, secure against
switching on again, prove dead, earth and short-circuit, cover live parts near. What holds a
charge is given its time and measured before the rest is proved dead; the tester is proved
before and after on a source known to be live, and measures the charge between these two.
"""

from dataclasses import dataclass, replace

from faultkit.errors import UsageError
from faultkit.job.named import named_test
from faultkit.job.records import JobState
from faultkit.vocabulary.machine import Condition, Machine, Step
from faultkit.vocabulary.near_miss import did_you_mean, listed

SAFE_CHARGE = 60.0
"""Volts DC up to which a charge may be left (EN 60204-1, 6.2.4, from memory)."""

OTHER_SUPPLIES = ("Every other supply of the panel too: neighbouring cranes, heating, lighting, "
                  "signals from other controls.")
CHARGE_LEFT = ("A charge that has not gone means a broken discharge circuit: wait longer, and let "
               "a qualified person discharge it with a resistor made for it, never with a wire.")


@dataclass(frozen=True, slots=True)
class ProcedureStep:
    """One thing to do and to acknowledge."""

    id: str
    """`lock`, or with what it is about: `off:-Q0`, `dead:-F1:1`."""
    says: str
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Procedure:
    """Steps in the order in which they are made."""

    steps: tuple[ProcedureStep, ...]
    minutes: float


def needed(state: JobState, machine: Machine, test_id: str) -> bool | None:
    """Whether a procedure comes before a test: True to dead, False to live, None for none."""
    dead = machine.conditions[named_test(machine, test_id).condition].dead
    return None if dead == state.dead else dead


def procedure(machine: Machine, state: JobState, to_dead: bool, condition: str) -> Procedure:
    """Return the steps that make a machine dead, or live again.

    Parameters
    ----------
    condition
        Id of the condition wanted; empty for the first dead, or the first live one.

    Raises
    ------
    UsageError
        There is no such condition, or it is live where a dead one is wanted, or the reverse.
    """
    wanted = _wanted(machine, to_dead, condition)
    if to_dead:
        return Procedure(_to_dead(machine, state, wanted), wanted.isolating)
    restoring = next((c.restoring for c in machine.conditions.values() if c.dead), 0.0)
    return Procedure(_to_live(machine, wanted), restoring + wanted.minutes)


def _wanted(machine: Machine, to_dead: bool, name: str) -> Condition:
    if name and name not in machine.conditions:
        raise UsageError(f"This machine has no condition {name!r}.",
                         did_you_mean(name, machine.conditions))
    fitting = [c for c in machine.conditions.values() if c.dead == to_dead]
    if not name and fitting:
        return fitting[0]
    if not name or machine.conditions[name].dead != to_dead:
        kind = "dead" if to_dead else "live"
        raise UsageError(f"{machine.conditions[name].says} is not {kind}." if name
                         else f"This machine has no {kind} condition.",
                         did_you_mean("", [c.id for c in fitting]))
    return machine.conditions[name]


def _chain(machine: Machine, condition: Condition) -> tuple[Condition, ...]:
    """The condition with those it comes after, the first one first."""
    chain = [condition]
    while chain[0].after is not None:
        chain.insert(0, machine.conditions[chain[0].after])
    return tuple(chain)


def _to_dead(machine: Machine, state: JobState, wanted: Condition) -> tuple[ProcedureStep, ...]:
    chain = _chain(machine, wanted)
    first = next(i for i, c in enumerate(chain) if c.dead)
    switches = [s for c in chain[: first + 1] for s in _set_devices(machine, c)]
    beyond = chain[first + 1:]
    cautions = tuple(dict.fromkeys(text for c in chain[: first + 1] for text in c.cautions))
    steps = [
        _load(state, cautions),
        ProcedureStep("people", "Tell everybody concerned that the machine is being switched off; "
                                "nobody may stand under it or work with it."),
        *_off(machine, switches),
        ProcedureStep("lock", "Lock it with your own lock, keep the key, hang up your tag. Try to "
                              "switch on: nothing may happen.",
                      (OTHER_SUPPLIES,)),
    ]
    if wanted.discharge > 0.0:
        steps.append(ProcedureStep(
            "wait", f"Wait {wanted.discharge:g} min with the covers on until the stored charge "
                    "has gone; longer where the plate says so."))
    steps.append(ProcedureStep("tester-before", "Prove the tester on a source known to be live, or "
                                                "on its proving unit.",
                               ("Two-pole voltage tester to EN 61243-3; no contactless one.",)))
    if wanted.discharge_at:
        steps.append(ProcedureStep(
            "charge", "Measure the DC voltage between "
                      f"{listed(wanted.discharge_at, 'and')}, and each to earth: go on only below "
                      f"{SAFE_CHARGE:g} V.",
            (CHARGE_LEFT,)))
    steps += [ProcedureStep(f"dead:{pin}", f"Prove {pin} dead: to every other conductor and to "
                                           "earth, AC and DC.") for pin in wanted.prove_dead]
    if not wanted.prove_dead:
        steps.append(ProcedureStep("dead", "Prove dead where you will work: every conductor to "
                                           "every other and to earth, AC and DC."))
    steps += [
        ProcedureStep("tester-after", "Prove the tester again on the same source. If it fails, "
                                      "nothing was proved: begin again."),
        ProcedureStep("earth", "Earth and short-circuit where the local rules ask for it."),
        ProcedureStep("cover", f"Cover live parts near by; {_line_side(machine, switches)} stays "
                               "live."),
        *(ProcedureStep(f"set:{s.target}", f"Now put {_named(machine, s.target)} to "
                        f"{_position(s.value)}.")
          for c in beyond for s in _set_devices(machine, c)),
    ]
    steps[-1] = replace(steps[-1], cautions=tuple(text for c in beyond for text in c.cautions))
    return tuple(steps)


def _to_live(machine: Machine, wanted: Condition) -> tuple[ProcedureStep, ...]:
    isolating, beyond = _switched(machine)
    return (
        ProcedureStep("tools", "Take out tools, test leads and loose wire ends; every lead that "
                               "was taken off is on again and tight."),
        ProcedureStep("earths-off", "Take off earths and short-circuits, where they were put on."),
        *(ProcedureStep(f"back:{name}", f"See that {_named(machine, name)} is back at "
                        f"{_rests(machine, name)}.") for name in beyond),
        ProcedureStep("covers", "Put on covers and close what need not be open."),
        ProcedureStep("clear", "Tell everybody concerned that the supply comes back; nobody at "
                               "moving parts, nobody under the hook."),
        ProcedureStep("load", "See that nothing can fall or run when the supply comes: load "
                              "landed, no button held or jammed, brake closed.", wanted.cautions),
        ProcedureStep("unlock", "Take off your tag and your own lock; everybody takes off only "
                                "their own."),
        *_on(machine, isolating),
        ProcedureStep("watch", "Watch: nothing starts by itself, and the load stays where it is.",
                      ("Hand on the emergency stop.",)),
    )


def _switched(machine: Machine) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Devices that make the machine dead; devices that dead conditions move beyond that."""
    isolating: dict[str, None] = {}
    beyond: dict[str, None] = {}
    for condition in machine.conditions.values():
        if not condition.dead:
            continue
        chain = _chain(machine, condition)
        first = next(i for i, c in enumerate(chain) if c.dead)
        for i, one in enumerate(chain):
            into = isolating if i <= first else beyond
            into.update(dict.fromkeys(s.target for s in _set_devices(machine, one)))
    return tuple(isolating), tuple(name for name in beyond if name not in isolating)


def _set_devices(machine: Machine, condition: Condition) -> tuple[Step, ...]:
    return tuple(s for s in condition.steps if s.kind == "set" and s.target in machine.devices)


def _load(state: JobState, cautions: tuple[str, ...]) -> ProcedureStep:
    if state.secured is not None:
        says = f"See that the load is still as it was noted: {state.secured.how}."
    else:
        says = ("Land the load and let the brake set. If it cannot be landed, secure it or close "
                "off the area below it, and stop here until a qualified person decides.")
    return ProcedureStep("load", says, cautions)


def _named(machine: Machine, name: str) -> str:
    says = machine.devices[name].says
    return f"{name} ({says})" if says else name


def _rests(machine: Machine, name: str) -> str:
    """Position of a device at rest: the author's word, or let go for a latching button."""
    return _position(str(machine.devices[name].attributes.get("rests", "0")))


def _position(value: str) -> str:
    return {"0": "released", "1": "pressed"}.get(value, value)


def _off(machine: Machine, switches: list[Step]) -> tuple[ProcedureStep, ...]:
    if not switches:
        return (ProcedureStep("off", "Open the isolator that cuts off every supply of the "
                                     "machine."),)
    return tuple(ProcedureStep(f"off:{s.target}", f"Switch {_named(machine, s.target)} to "
                               f"{_position(s.value)}.") for s in switches)


def _on(machine: Machine, names: tuple[str, ...]) -> tuple[ProcedureStep, ...]:
    if not names:
        return (ProcedureStep("on", "Close the isolator."),)
    return tuple(ProcedureStep(f"on:{name}", f"Switch {_named(machine, name)} to "
                               f"{_rests(machine, name)}.") for name in names)


def _line_side(machine: Machine, switches: list[Step]) -> str:
    names = [s.target for s in switches if machine.devices[s.target].contacts]
    return f"the line side of {listed(names, 'and') or 'the isolator'}"

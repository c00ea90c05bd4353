"""Small models, one function a device kind: device -> branches, movers, sources."""

from faultkit.circuit.devices import driving, supplying, switching, watching
from faultkit.circuit.movers import Part
from faultkit.errors import CircuitError
from faultkit.vocabulary.machine import Device, Machine

BUILDERS = {
    **switching.BUILDERS, **supplying.BUILDERS, **watching.BUILDERS, **driving.BUILDERS,
}


def build_part(device: Device, machine: Machine) -> Part:
    """Return what a device brings into the circuit.

    Raises
    ------
    CircuitError
        If its attributes make no sense, as those of a fault may.
    """
    try:
        return BUILDERS[device.kind](device, machine)
    except (ArithmeticError, ValueError) as exc:
        raise CircuitError(f"{device.id} cannot be computed: {exc}.",
                           "Correct its attributes, or the fault that changes them.") from exc

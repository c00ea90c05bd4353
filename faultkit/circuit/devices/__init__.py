"""Small models, one function a device kind: device -> branches, movers, sources."""

from faultkit.circuit.devices import driving, supplying, switching, watching
from faultkit.circuit.movers import Part
from faultkit.vocabulary.machine import Device, Machine

BUILDERS = {
    **switching.BUILDERS, **supplying.BUILDERS, **watching.BUILDERS, **driving.BUILDERS,
}


def build_part(device: Device, machine: Machine) -> Part:
    """Return what a device brings into the circuit."""
    return BUILDERS[device.kind](device, machine)

"""Random control circuits, written as YAML: rungs of contacts and loads, with cross-links.

Every one has what makes circuits hard to solve: pieces between two open contacts that hang on
nothing but their insulation, dead ends, contacts of 0.03 ohm beside coils of kilohms, sneak
paths from rung to rung. The seed is the name: the same seed gives the same circuit.
"""

from random import Random

from faultkit.vocabulary.diagnosis import Change

HEAD = """\
machine: Random ladder {seed}
says: Made by a random generator for comparing circuit solvers.
version: "1"
supply: {supply}
places:
  bench: {{says: Test bench}}
settings:
  hook: {{says: Hook, positions: [low, middle, high], rests: {hook}}}
conditions:
  held:
    says: Some buttons held
    hold: [{held}]
devices:
"""
AC_SUPPLY = """\
  -X0: {kind: mains, says: Supply, place: bench, voltage: 230 V, phases: 1}
  -F1: {kind: fuse, says: Control fuse, place: bench, rating: 6 A, contacts: {1-2: main}}
  -X1: {kind: terminals, says: Strip, place: bench, pins: [L, N]}
"""
DC_SUPPLY = """\
  -X0: {kind: mains, says: Supply, place: bench, voltage: 230 V, phases: 1}
  -G1: {kind: dc supply, says: 24 V supply, place: bench, input: L-N, output: 24-0,
        limit: 5 A, minimum: 170 V, rated input: 230 V}
  -F1: {kind: fuse, says: Control fuse, place: bench, rating: 4 A, contacts: {1-2: main}}
  -X1: {kind: terminals, says: Strip, place: bench, pins: [L, N]}
"""


class Ladder:
    """One random circuit: `text` is its YAML, `faults` are faults worth trying."""

    def __init__(self, seed: int) -> None:
        self.seed = seed
        self.direct = seed % 2 == 1
        self._random = Random(seed)
        self._devices: list[str] = []
        back = ["-X0:N", "-G1:N", "-G1:0", "-X1:N"] if self.direct else ["-X0:N", "-X1:N"]
        self._wires: dict[str, list[str]] = {"L": ["-F1:2", "-X1:L"], "N": back}
        self._buttons: list[str] = []
        self._pieces: list[str] = []
        self._contacts: list[str] = []
        self._coils: list[str] = []
        self._coil_contacts: dict[str, list[str]] = {}
        self._build()
        self.text = self._written()
        self.faults = self._faults()

    def _build(self) -> None:
        coils = self._random.randint(2, 4)
        for k in range(coils):
            self._coil_contacts[f"-K{k + 1}"] = []
        for rung in range(coils + self._random.randint(2, 4)):
            self._rung(rung, coils)
        for _ in range(self._random.randint(1, 3)):
            self._cross_link()
        for coil, contacts in self._coil_contacts.items():
            kind = "relay, current: DC" if self.direct else "contactor, coil voltage: 230 V"
            listed = ", ".join(contacts) or "13-14: no"
            self._devices.append(f"  {coil}: {{kind: {kind}, says: Relay, place: bench, "
                                 f"contacts: {{{listed}}}}}")

    def _rung(self, rung: int, coils: int) -> None:
        """Contacts in series from the fuse to a load, each with a wire of its own behind it."""
        here = "L"
        for step in range(self._random.randint(1, 4)):
            a, b = self._contact()
            self._wires[here].append(a)
            here = f"{rung + 1}{step}"
            self._wires[here] = [b]
            self._pieces.append(here)
        top, bottom = self._load(rung, coils)
        self._wires[here].append(top)
        self._wires["N"].append(bottom)

    def _contact(self) -> tuple[str, str]:
        """A contact of a button, a limit switch or one of the relays; its two pins."""
        form = self._random.choice(["no", "nc", "nc"])
        choice = self._random.random()
        if choice < 0.45:
            name = f"-S{len(self._buttons) + 1}"
            self._buttons.append(name)
            a, b = ("13", "14") if form == "no" else ("11", "12")
            self._devices.append(f"  {name}: {{kind: button, says: Button, place: bench, "
                                 f"contacts: {{{a}-{b}: {form}}}}}")
        elif choice < 0.7:
            name = f"-B{len(self._devices) + 1}"
            a, b = ("13", "14") if form == "no" else ("11", "12")
            edge = self._random.choice(["high .. high", "middle .. high", "low .. low"])
            self._devices.append(f"  {name}: {{kind: limit switch, says: Limit, place: bench, "
                                 f"contacts: {{{a}-{b}: {{form: {form}, "
                                 f"acts: {{hook: {edge}}}}}}}}}")
        else:
            name = self._random.choice(list(self._coil_contacts))
            number = len(self._coil_contacts[name]) + 2
            a, b = (f"{number}3", f"{number}4") if form == "no" else (f"{number}1", f"{number}2")
            self._coil_contacts[name].append(f"{a}-{b}: {form}")
        self._contacts.append(f"{name}:{a}-{b}")
        return f"{name}:{a}", f"{name}:{b}"

    def _load(self, rung: int, coils: int) -> tuple[str, str]:
        if rung < coils:
            name = f"-K{rung + 1}"
            self._coils.append(f"{name}/coil")
            return f"{name}:A1", f"{name}:A2"
        if self._random.random() < 0.5:
            volts = 24 if self.direct else 230
            self._devices.append(f"  -P{rung}: {{kind: lamp, says: Lamp, place: bench, "
                                 f"voltage: {volts} V, power: 2 W}}")
            return f"-P{rung}:X1", f"-P{rung}:X2"
        ohms = self._random.choice([47, 220, 1000, 4700]) * (1 if self.direct else 10)
        self._devices.append(f"  -R{rung}: {{kind: resistor, says: Resistor, place: bench, "
                             f"resistance: {ohms} ohm}}")
        return f"-R{rung}:1", f"-R{rung}:2"

    def _cross_link(self) -> None:
        """A contact between two rungs, or one that leads nowhere."""
        a, b = self._contact()
        one, other = self._random.sample(self._pieces, 2)
        self._wires[one].append(a)
        if self._random.random() < 0.7:
            self._wires[other].append(b)

    def _written(self) -> str:
        held = [b for b in self._buttons if self._random.random() < 0.5]
        supply = "24 V DC" if self.direct else "230 V AC"
        head = HEAD.format(seed=self.seed, supply=supply, held=", ".join(held),
                           hook=self._random.choice(["low", "middle", "high"]))
        if self.direct:
            feed = {"LA": ["-X0:L1", "-G1:L"], "24": ["-G1:24", "-F1:1"]}
        else:
            feed = {"LA": ["-X0:L1", "-F1:1"]}
        wires = {**feed, **{n: pins for n, pins in self._wires.items() if len(pins) > 1}}
        lines = [f'  "{name}": [{", ".join(pins)}]' for name, pins in wires.items()]
        devices = (DC_SUPPLY if self.direct else AC_SUPPLY) + "\n".join(self._devices)
        return f"{head}{devices}\nwires:\n" + "\n".join(lines) + "\n"

    def _faults(self) -> list[Change]:
        """A contact that is poor, one that is welded, a broken wire, a bad coil, a bridge."""
        pick = self._random.choice
        wire = pick([n for n in self._pieces if len(self._wires[n]) > 1])
        a, b = self._wires[wire][:2]
        one, other = self._random.sample(self._pieces, 2)
        return [
            Change("contact", pick(self._contacts), str(self._random.choice([150, 1500]))),
            Change("contact", pick(self._contacts), "closed"),
            Change("contact", pick(self._contacts), "open"),
            Change("hop", f"{wire}:{a}/{b}", "open"),
            Change("hop", f"{wire}:{a}/{b}", "300"),
            Change("element", pick(self._coils), "open"),
            Change("element", pick(self._coils), "x0.5"),
            Change("bridge", f"{self._wires[one][0]}/{self._wires[other][0]}", "0.1"),
        ]

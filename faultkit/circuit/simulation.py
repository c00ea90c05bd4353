"""The sequence: apply a condition, solve, let devices move after their delays, solve again.

A simulation belongs to one set of faults. It remembers the moment at which each condition is
reached, so that conditions that build on each other share their beginnings.
"""

from collections.abc import Iterable, Mapping
from copy import copy
from dataclasses import dataclass
from types import MappingProxyType

from faultkit.circuit.devices.switching import Plunger
from faultkit.circuit.devices.watching import LoopSignal
from faultkit.circuit.elements import CLOSED, Row
from faultkit.circuit.faults import Faults, apply_changes
from faultkit.circuit.movers import Follower, Mover
from faultkit.circuit.network import Complex, Network, row_for
from faultkit.circuit.solve import Solution, Solver
from faultkit.vocabulary.diagnosis import Change
from faultkit.vocabulary.machine import Condition, Machine, Step

SETTLING = 2.0
"""Seconds that the machine is left alone before the first action."""
TOO_OFTEN = 12
"""Moves of one device within one action after which it chatters, and with it every device that
has moved at least half as often."""
AT_ONCE = 1e-9


@dataclass(frozen=True, slots=True)
class Event:
    """A device has moved."""

    time: float
    """Seconds since the beginning."""
    device: str
    word: str
    """What it shows from now on."""


@dataclass(slots=True, eq=False)
class Moment:
    """Everything about the machine at one point in time."""

    states: list[str]
    settings: dict[str, str]
    pending: dict[int, tuple[float, str]]
    now: float
    since: float
    """Time of the last action of the condition."""
    events: tuple[Event, ...]
    rows: Complex
    chattering: frozenset[str]
    solution: Solution | None = None

    def copy(self) -> "Moment":
        """Return a copy that can go on by itself."""
        return Moment(list(self.states), dict(self.settings), dict(self.pending), self.now,
                      self.since, self.events, self.rows.copy(), self.chattering)


class Simulation:
    """One machine with one set of faults, brought into its conditions."""

    def __init__(self, machine: Machine, network: Network, solver: Solver,
                 changes: Iterable[Change] = (),
                 blown: Mapping[str, str] = MappingProxyType({})) -> None:
        self.machine = machine
        self.network = network
        self._solver = solver
        self.blew = blown
        """Fuse poles and breakers found open from the start, and the condition that blew them."""
        self._faults = apply_changes(machine, network, changes)
        self.movers, self.names = _movers(network, self._faults, frozenset(blown))
        self._followers = _followers(network, self._faults)
        self._number = {name: k for k, name in enumerate(self.names)}
        self._switches = {m.switch: network.index[m.switch] for m in self.movers if m.switch}
        self._leaders = {one.acts[0] for follower in self._followers
                         for one in follower.contacts if one.acts}
        self._moments: dict[str, Moment] = {}
        self._world: dict[str, str] = {}

    def at(self, condition: str) -> Moment:
        """Return the moment at which a condition has been brought about."""
        if condition not in self._moments:
            record = self.machine.conditions[condition]
            if record.after is None:
                moment, steps = self._rest(record)
            else:
                moment, steps = self.at(record.after).copy(), record.steps
            self._enter(moment)
            for step in steps:
                self._act(moment, step)
            self._moments[condition] = moment
        return self._moments[condition]

    def blown(self, condition: str = "") -> frozenset[str]:
        """Return the fuse poles and breakers open in a condition, or in any moment so far."""
        moments = (self.at(condition),) if condition else tuple(self._moments.values())
        return frozenset(
            name for moment in moments
            for name, state in zip(self.names, moment.states, strict=True)
            if state in ("blown", "tripped"))

    def dead_rows(self, moment: Moment) -> Complex:
        """Return the (B, 4) rows for the ohmmeter at a moment."""
        self._enter(moment)
        rows = self._base(live=False)
        for mover, state in zip(self.movers, moment.states, strict=True):
            for effect in mover.effects.get(state, ()):
                if effect.dead is not None:
                    self._write(rows, effect.branch, effect.dead, live=False)
        for follower in self._followers:
            for effect in follower.effects(self._world):
                if effect.dead is not None:
                    self._write(rows, effect.branch, effect.dead, live=False)
        return rows

    def _base(self, *, live: bool) -> Complex:
        """Return rows at rest with changed devices and faults in them."""
        net = self.network
        rows = (net.live if live else net.dead).copy()
        for part in self._faults.parts.values():
            for branch in part.branches:
                k = net.index[branch.id]
                end = net.node[branch.a]
                direct = bool(net.direct[end if net.island[end] >= 0 else net.node[branch.b]])
                rows[k] = row_for(branch, direct=direct) if live else branch.dead
        for k, row in self._faults.poor.items():
            if net.branches[k].ac == CLOSED:
                rows[k] = row
        for k, factor in self._faults.factor.items():
            rows[k, 1] *= factor
        for k, (one, other) in self._faults.fixed.items():
            rows[k] = one if live else other
        return rows

    def _rest(self, record: Condition) -> tuple[Moment, tuple[Step, ...]]:
        """Return the machine at rest, with the condition's leading settings already made."""
        settings = {setting.id: setting.rests for setting in self.machine.settings.values()}
        moment = Moment([m.start for m in self.movers], settings, {}, 0.0, 0.0, (),
                        self._base(live=True), frozenset())
        self._enter(moment)
        for k in range(len(self.movers)):
            self._show(moment, k)
        steps = list(record.steps)
        while steps and steps[0].kind == "set":
            self._place(moment, steps.pop(0))
        self._follow(moment)
        self._advance(moment, SETTLING)
        moment.since = moment.now
        return moment, tuple(steps)

    def _enter(self, moment: Moment) -> None:
        """Make the world what it was at this moment."""
        self._world = dict(moment.settings)
        for mover, state in zip(self.movers, moment.states, strict=True):
            self._tell(mover, state)
        for contact, k in self._switches.items():
            self._world[contact] = "closed" if moment.rows[k, 0] else "open"

    def _tell(self, mover: Mover, state: str) -> None:
        word = mover.word(state)
        if self._world.get(mover.device) not in ("blown", "tripped"):
            self._world[mover.device] = word

    def _act(self, moment: Moment, step: Step) -> None:
        moment.since = moment.now
        if step.kind == "wait":
            self._advance(moment, step.seconds)
            return
        self._place(moment, step)
        self._follow(moment)
        if step.kind == "press" and not self._latches(step.target):
            self._advance(moment, 0.3)
            self._place(moment, Step("release", step.target, "", 0))
            self._follow(moment)
        self._advance(moment, step.seconds)

    def _latches(self, device: str) -> bool:
        """Tell whether a button stays where it is put."""
        mover = self.movers[self._number[device]]
        return isinstance(mover, Plunger) and mover.latching

    def _place(self, moment: Moment, step: Step) -> None:
        """Put a setting or a device moved by hand where the step says."""
        if step.target in moment.settings:
            moment.settings[step.target] = step.value
            self._world[step.target] = step.value
            return
        k = self._number[step.target]
        mover = self.movers[k]
        if mover.fixed:
            return
        value = step.value
        if step.kind == "release":
            value = "0"
        elif step.kind in ("press", "hold"):
            value = step.value or "1"
        moment.states[k] = value
        self._show(moment, k)

    def _show(self, moment: Moment, k: int) -> None:
        """Write what a device's state does to the branches, and tell the world."""
        mover, state = self.movers[k], moment.states[k]
        for effect in mover.effects.get(state, ()):
            if effect.live is not None:
                self._write(moment.rows, effect.branch, effect.live, live=True)
        if isinstance(mover, LoopSignal):
            effect = mover.effect_for(state, self._world)
            assert effect.live is not None
            self._write(moment.rows, effect.branch, effect.live, live=True)
        self._tell(mover, state)

    def _write(self, rows: Complex, branch: str, row: Row, *, live: bool) -> None:
        k = self.network.index[branch]
        if k in self._faults.fixed:
            row = self._faults.fixed[k][0 if live else 1]
        elif k in self._faults.poor and row == CLOSED:
            row = self._faults.poor[k]
        elif k in self._faults.factor:
            row = (row[0], row[1] * self._faults.factor[k], row[2], row[3])
        rows[k] = row
        if live and branch in self._switches:
            self._world[branch] = "closed" if row[0] else "open"

    def _follow(self, moment: Moment) -> None:
        """Let limit switches and load signals follow what has changed."""
        for follower in self._followers:
            for effect in follower.effects(self._world):
                if effect.live is not None:
                    self._write(moment.rows, effect.branch, effect.live, live=True)
        for k, mover in enumerate(self.movers):
            if isinstance(mover, LoopSignal):
                self._show(moment, k)

    def _advance(self, moment: Moment, seconds: float) -> None:
        """Let time pass: solve, see who wishes to move, move the next one, again."""
        end = moment.now + seconds
        moves: dict[int, int] = {}
        restless: set[str] = set()
        while True:
            moment.solution = self._solver.solve(moment.rows)
            self._wishes(moment)
            if not moment.pending:
                break
            due = min(time for time, _ in moment.pending.values())
            if due > end:
                break
            moment.now = max(moment.now, due)
            ready = [k for k, (time, _) in moment.pending.items() if time <= due + AT_ONCE]
            for k in sorted(ready):
                self._move(moment, k, moment.pending.pop(k)[1])
                moves[k] = moves.get(k, 0) + 1
            if not self._leaders.isdisjoint(self.movers[k].device for k in ready):
                self._follow(moment)
            if max(moves.values()) > TOO_OFTEN:
                restless = {self.movers[k].device for k, n in moves.items() if n > TOO_OFTEN / 2}
                moment.pending.clear()
                moment.solution = self._solver.solve(moment.rows)
                break
        moment.chattering = frozenset(restless) | self._still_restless(moment, moves)
        moment.now = end

    def _still_restless(self, moment: Moment, moves: Iterable[int]) -> frozenset[str]:
        """Return what chattered before and goes on: it has moved, and some of it is about to."""
        about_to = {self.movers[k].device for k in moment.pending}
        if moment.chattering.isdisjoint(about_to):
            return frozenset()
        return moment.chattering & (about_to | {self.movers[k].device for k in moves})

    def _wishes(self, moment: Moment) -> None:
        """Note who wishes to move and when; a wish that becomes more urgent is met earlier."""
        assert moment.solution is not None
        x = moment.solution.x.tolist()
        pending, states, world = moment.pending, moment.states, self._world
        for k, mover in enumerate(self.movers):
            if mover.fixed or mover.manual:
                continue
            target, delay = mover.wish(states[k], x, world)
            if not target or target == states[k]:
                pending.pop(k, None)
                continue
            due = moment.now + delay
            if k not in pending or pending[k][1] != target or due < pending[k][0]:
                pending[k] = (due, target)

    def _move(self, moment: Moment, k: int, state: str) -> None:
        mover = self.movers[k]
        before = mover.word(moment.states[k])
        moment.states[k] = state
        self._show(moment, k)
        word = mover.word(state)
        if word != before:
            moment.events = (*moment.events, Event(moment.now, mover.device, word))


def _movers(network: Network, faults: Faults, blown: frozenset[str],
            ) -> tuple[list[Mover], list[str]]:
    """Return fresh movers, bound to the network's columns, and their names."""
    movers: list[Mover] = []
    names: list[str] = []
    for device, healthy in network.parts.items():
        part = faults.parts.get(device, healthy)
        own = [(device, part.mover)] if part.mover else []
        own += [(pole.branches[0], pole) for pole in part.poles]
        for name, template in own:
            mover = copy(template)
            mover.at = tuple(network.node[pin] for pin in mover.pins)
            mover.through = tuple(network.column(branch) for branch in mover.branches)
            if device in faults.stuck:
                mover.jammed(faults.stuck[device])
            if name in blown and not mover.fixed:
                mover.start = "tripped" if "tripped" in mover.effects else "blown"
            movers.append(mover)
            names.append(name)
    return movers, names


def _followers(network: Network, faults: Faults) -> list[Follower]:
    result = []
    for device, healthy in network.parts.items():
        part = faults.parts.get(device, healthy)
        if part.follower:
            result.append(part.follower)
    return result



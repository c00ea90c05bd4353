"""Conditions: the steps into a state, on top of another condition's."""

import re
from dataclasses import replace

from faultkit.loading.draft import Draft
from faultkit.loading.fields import Fields, quantity_of, text_of
from faultkit.loading.sections.designations import known_pin
from faultkit.loading.tree import Mapping, Node, Scalar, Sequence, called
from faultkit.vocabulary.machine import Condition, Step, StepKind
from faultkit.vocabulary.near_miss import did_you_mean, listed
from faultkit.vocabulary.origin import Origin

ACTIONS: tuple[StepKind, ...] = ("set", "press", "release", "hold", "wait")
"""In the order in which they are done when they are not listed under `steps`."""

LASTS = {"set": 1.0, "press": 1.0, "release": 1.0, "hold": 4.0, "wait": 0.0}
"""Seconds to go on after an action; a press lasts 0.3 s before that."""

LONGEST = 3600.0
"""Seconds that a step may last: the circuit is computed all the way."""

DEAD_ONLY = ("prove dead", "discharge", "discharge at")
"""Fields that say how a machine is proved dead."""
KEYS = ("says", "after", *ACTIONS, "steps", "dead", "minutes", "isolating", "restoring",
        *DEAD_ONLY, "cautions")
MINUTES, ISOLATING, RESTORING = 0.5, 8.0, 3.0
"""Defaults; common practice, no source."""

_STEP = re.compile(r"(.*\S)\s+step\s+([0-9]{1,2})")


def build_conditions(draft: Draft) -> None:
    """Build all conditions; one with `after` inherits `dead`, its minutes and its proof."""
    rows = {name: Fields(body, f"condition {name!r}", KEYS, draft.report)
            for name, _, body in draft.records("conditions")}
    after = {name: fields.text("after") for name, fields in rows.items()}
    for name, key, _ in draft.records("conditions"):
        fields = rows[name]
        above = after[name]
        if above and above not in rows:
            draft.report.error(fields.at("after"), "unknown-condition",
                               f"There is no condition {above!r}.", did_you_mean(above, rows))
        dead = _inherited(name, "dead", rows, after)
        is_dead = rows[dead].yes("dead", default=False) if dead else False
        isolating, restoring = (
            _minutes(rows, _inherited(name, word, rows, after), word, default) if is_dead else 0.0
            for word, default in (("isolating", ISOLATING), ("restoring", RESTORING)))
        draft.conditions[name] = Condition(
            name, fields.text("says", name), above if above in rows else None,
            _steps(fields, draft), is_dead, fields.quantity("minutes", "min", MINUTES),
            isolating, restoring,
            tuple(text.text for text in fields.texts("cautions")), key.origin,
            *_proof(name, rows, after, draft, isolating if is_dead else None))
    _no_cycle(draft, rows)


def _minutes(rows: dict[str, Fields], owner: str, word: str, default: float) -> float:
    return rows[owner].quantity(word, "min", default) if owner else default


def _proof(name: str, rows: dict[str, Fields], after: dict[str, str], draft: Draft,
           isolating: float | None) -> tuple[tuple[str, ...], float, tuple[str, ...]]:
    """Points to prove dead, minutes to discharge and the points where the charge is measured.

    `isolating` is None for a live condition, which has none of these.
    """
    fields = rows[name]
    if isolating is None:
        for key in DEAD_ONLY:
            if fields.has(key):
                draft.report.error(fields.keys[key].origin, "not-dead", f"The {fields.what} is "
                                   f"not dead; {key!r} is for dead ones.",
                                   "Add 'dead: yes', or delete the field.")
        return (), 0.0, ()
    pins = {key: _pins(rows, _inherited(name, key, rows, after), key, draft)
            for key in ("prove dead", "discharge at")}
    owner = _inherited(name, "discharge", rows, after)
    wait = _minutes(rows, owner, "discharge", 0.0)
    if wait > isolating:
        draft.report.error(rows[owner].at("discharge"), "discharge-too-long",
                           f"The {fields.what} waits {wait:g} min for the charge, but isolating "
                           f"takes {isolating:g} min with everything.", "Raise 'isolating'.")
    if (wait > 0.0) != bool(pins["discharge at"]):
        missing = "discharge at" if wait > 0.0 else "discharge"
        draft.report.error(fields.origin, "discharge", "A stored charge is given its time and then "
                           f"measured; the {fields.what} lacks {missing!r}.",
                           "Write 'discharge: 5 min' and 'discharge at: [pin, pin]'.")
    return pins["prove dead"], wait, pins["discharge at"]


def _pins(rows: dict[str, Fields], owner: str, key: str, draft: Draft) -> tuple[str, ...]:
    texts = rows[owner].texts(key) if owner else ()
    pins = tuple(text.text for text in texts if known_pin(text, draft))
    if key == "discharge at" and texts and len(set(pins)) != 2 and len(pins) == len(texts):
        draft.report.error(rows[owner].at(key), "two-pins", "A charge is measured between two "
                           "different pins.", "Write [-U1:+DC, -U1:-DC].")
    return pins


def _inherited(name: str, key: str, rows: dict[str, Fields], after: dict[str, str]) -> str:
    """The condition in the chain of `after` that says something about `key`."""
    seen: set[str] = set()
    while name in rows and name not in seen:
        if rows[name].has(key):
            return name
        seen.add(name)
        name = after[name]
    return ""


def _no_cycle(draft: Draft, rows: dict[str, Fields]) -> None:
    for name, condition in list(draft.conditions.items()):
        seen = [name]
        above = condition.after
        while above is not None and above not in seen:
            seen.append(above)
            above = draft.conditions[above].after
        if above == name:
            draft.report.error(rows[name].at("after"), "condition-cycle",
                               f"The condition {name!r} comes after itself: "
                               f"{' after '.join([*seen, name])}.", "Let one begin at rest.")
            draft.conditions[name] = replace(condition, after=None)


def _steps(fields: Fields, draft: Draft) -> tuple[Step, ...]:
    found: list[Step] = []
    for action in ACTIONS:
        node = fields.nodes.get(action)
        if node is not None:
            found += _action(action, node, LASTS[action], draft)
    steps = fields.nodes.get("steps")
    if steps is None:
        return tuple(found)
    if not isinstance(steps, Sequence):
        draft.report.error(steps.origin, "wrong-shape", f"The field 'steps' is {called(steps)}; it "
                           "must be a list.", "Write [{release: -S2}, {wait: 0.2 s}].")
        return tuple(found)
    if found:
        draft.report.error(steps.origin, "two-orders", "A condition has either 'steps' or the "
                           "short fields, not both.", "Move everything into 'steps'.")
    for item in steps.items:
        row = Fields(item, f"step of the {fields.what}", (*ACTIONS, "for"), draft.report)
        actions = [action for action in ACTIONS if row.has(action)]
        if len(actions) != 1:
            draft.report.error(row.origin, "one-action", "A step is one action.",
                               f"Write one of {listed(ACTIONS)} in each item.")
            continue
        lasts = row.quantity("for", "s", LASTS[actions[0]], 0.0, LONGEST)
        found += _action(actions[0], row.nodes[actions[0]], lasts, draft)
    return tuple(found)


def _action(action: StepKind, node: Node, lasts: float, draft: Draft) -> list[Step]:
    if action == "wait":
        seconds = quantity_of(node, "s", "time to wait", draft.report, 0.0, 0.0, LONGEST)
        return [Step("wait", "", "", seconds)]
    if action == "set":
        if not isinstance(node, Mapping):
            draft.report.error(node.origin, "wrong-shape", f"'set' is {called(node)}; it must be a "
                               "mapping.", "Write {-Q0: off}, or {hook: upper stop}.")
            return []
        found = []
        for key, body in node.entries:
            position = text_of(body, f"position of {key.text!r}", draft.report)
            if position and _position(key, position, body.origin, draft):
                found.append(Step("set", key.text, _moved(key.text, position, draft), lasts))
        return found
    items = node.items if isinstance(node, Sequence) else (node,)
    found = []
    for item in items:
        text = text_of(item, f"button under '{action}'", draft.report)
        match = _STEP.fullmatch(text)
        device, step = match.groups() if match else (text, "1")
        if text and _button(device, int(step), item.origin, draft):
            found.append(Step(action, device, "" if action == "release" else str(int(step)), lasts))
    return found


def _moved(name: str, position: str, draft: Draft) -> str:
    """Position as a step has it: a latching button goes to its first step, or to none."""
    if name in draft.devices and draft.devices[name].kind == "button":
        return "1" if position == "pressed" else "0"
    return position


def _position(key: Scalar, position: str, origin: Origin, draft: Draft) -> bool:
    """Check what is set: a setting or a maintained device."""
    name = key.text
    if name in draft.settings:
        positions: tuple[str, ...] = draft.settings[name].positions
    elif name in draft.devices:
        device = draft.devices[name]
        latching = device.kind == "button" and device.attributes["latching"] == "yes"
        if not latching and device.kind != "selector":
            draft.report.error(key.origin, "not-set", f"{name} is a {device.kind}; it does not "
                               "stay where it is put.", "Use press or hold for a button.")
            return False
        positions = draft.words_of(name)
    else:
        if not draft.written("settings", name) and not draft.written("devices", name):
            draft.report.error(key.origin, "unknown-setting",
                               f"There is no setting or device {name!r}.",
                               did_you_mean(name, [*draft.settings, *draft.devices]))
        return False
    if position in positions:
        return True
    draft.report.error(origin, "unknown-position", f"{name} has no position {position!r}.",
                       did_you_mean(position, positions))
    return False


def _button(name: str, step: int, origin: Origin, draft: Draft) -> bool:
    if not draft.known("device", name, origin):
        return False
    device = draft.devices[name]
    if device.kind != "button":
        draft.report.error(origin, "not-pressed", f"{name} is a {device.kind}, no button.",
                           "Use 'set' for what stays where it is put.")
        return False
    steps = max([int(float(device.attributes["steps"])),
                 *(contact.step for contact in device.contacts)])
    if not 1 <= step <= steps:
        draft.report.error(origin, "unknown-step", f"{name} has no step {step}; it has {steps}.",
                           "Correct it, or set 'steps' of the button.")
        return False
    return True

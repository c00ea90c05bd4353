"""Events as plain data, and back.

    {"kind": "ReadingTaken", "test": "up-coil", "reading": {"value": 112.9, "word": ""}}

`OL` stands for infinity. A kind or field that this version does not know is refused by name, so
that nothing is dropped silently; a field that an older version did not write has its default.
"""

import json
from dataclasses import MISSING, fields
from functools import cache
from math import isfinite
from types import NoneType, UnionType
from typing import Any, Literal, NoReturn, get_args, get_origin, get_type_hints

from faultkit.errors import JournalError
from faultkit.job.events import EVENTS, Event
from faultkit.vocabulary.diagnosis import Reading

NEWER = "Was it written by a newer faultkit? Then install that one."
KINDS: dict[str, type[Event]] = {kind.__name__: kind for kind in EVENTS}

Data = dict[str, Any]


def to_data(event: Event) -> Data:
    """Event as a dictionary that JSON can hold.

    Raises
    ------
    JournalError
        A reading that is no number and not OL.
    """
    data: Data = {"kind": type(event).__name__}
    for one in fields(event):
        data[one.name] = _plain(getattr(event, one.name))
    return data


def from_data(data: object) -> Event:
    """Event from a dictionary.

    Raises
    ------
    JournalError
        It is none: an unknown kind, an unknown or missing field, a value that does not fit.
    """
    if not isinstance(data, dict):
        raise JournalError("An event must be a JSON object with the field 'kind'.")
    kind = data.get("kind")
    if not isinstance(kind, str) or kind not in KINDS:
        raise JournalError(f"This version knows no event of the kind {_short(kind)}.", NEWER)
    shape = _shape(kind)
    values: dict[str, Any] = {}
    for name, value in data.items():
        if name == "kind":
            continue
        if name not in shape:
            raise JournalError(f"This version knows no field {_short(name)} in {kind}.", NEWER)
        values[name] = _value(value, shape[name][0], f"{kind}.{name}")
    for name, (_, needed) in shape.items():
        if needed and name not in values:
            raise JournalError(f"The event {kind} lacks its field {name!r}.")
    return KINDS[kind](**values)


def to_text(data: Data | list[Any]) -> str:
    """JSON in one line of ASCII, keys in fixed order: equal data give equal text.

    Raises
    ------
    JournalError
        It holds a number that is none.
    """
    try:
        return json.dumps(data, sort_keys=True, separators=(",", ":"), allow_nan=False)
    except ValueError as error:
        raise JournalError("A number that is none cannot be kept.") from error


def from_text(text: str) -> object:
    """Read JSON strictly.

    Raises
    ------
    JournalError
        It is no JSON, or holds NaN or Infinity.
    """
    try:
        return json.loads(text, parse_constant=_no_number)
    except (ValueError, RecursionError) as error:
        raise JournalError("This is no JSON.") from error


def event_text(event: Event) -> str:
    """Event as it is kept."""
    return to_text(to_data(event))


def _no_number(name: str) -> NoReturn:
    raise ValueError(name)


@cache
def _shape(kind: str) -> dict[str, tuple[object, bool]]:
    """Type of each field of an event, and whether it must be there."""
    made = KINDS[kind]
    hints = get_type_hints(made)
    return {one.name: (hints[one.name], one.default is MISSING) for one in fields(made)}


def _plain(value: object) -> object:
    if isinstance(value, tuple):
        return list(value)
    if isinstance(value, Reading):
        return {"value": _number(value.value), "word": value.word}
    return value


def _number(value: float | None) -> float | str | None:
    if value is None or isfinite(value):
        return value
    if value > 0:
        return "OL"
    raise JournalError("A reading that is no number cannot be kept.")


def _value(value: object, hint: object, where: str) -> object:
    """Check one value of a field against the type it must have, and give it."""
    origin = get_origin(hint)
    if origin is UnionType:
        if value is None and NoneType in get_args(hint):
            return None
        (other,) = (one for one in get_args(hint) if one is not NoneType)
        return _value(value, other, where)
    if origin is tuple and isinstance(value, list):
        return tuple(_value(one, get_args(hint)[0], where) for one in value)
    if origin is Literal and isinstance(value, str) and value in get_args(hint):
        return value
    if hint is Reading and isinstance(value, dict):
        return _reading(value, where)
    if hint in (str, bool, int) and type(value) is hint:
        return value
    raise JournalError(f"{_short(value)} does not fit the field {where}.", NEWER)


def _reading(value: Data, where: str) -> Reading:
    unknown = [name for name in value if name not in ("value", "word")]
    if unknown:
        raise JournalError(f"This version knows no field {_short(unknown[0])} in {where}.", NEWER)
    number, word = value.get("value"), value.get("word", "")
    if not isinstance(word, str):
        raise JournalError(f"{_short(word)} does not fit the field {where}.word.")
    if number is None:
        return Reading(None, word)
    if number == "OL":
        return Reading(float("inf"), word)
    try:
        if isinstance(number, int | float) and not isinstance(number, bool) and isfinite(number):
            return Reading(float(number), word)
    except OverflowError:
        pass
    raise JournalError(f"{_short(number)} does not fit the field {where}.value.")


def _short(value: object) -> str:
    """What was found, fit for one sentence."""
    text = ascii(value)
    return text if len(text) <= 60 else text[:57] + "..."

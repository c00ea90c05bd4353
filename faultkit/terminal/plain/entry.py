"""Free entry: any two points, any meter, any condition; predicted on the spot by the circuit."""

from faultkit.errors import FaultkitError
from faultkit.job.probe import METERS, RESISTANCE, find_points, parse_probe, probe_id
from faultkit.terminal.plain.session import Session
from faultkit.terminal.wording.words import METERS as SAYS

LISTED = 20
POINT = ("A terminal (-X1:14), a device (-Q2) or a wire number (14): the points that fit are "
         "listed. An empty line goes back.")


def free_entry(session: Session) -> str | None:
    """Put together a test of one's own; its id, or None where it is given up."""
    talk, machine = session.talk, session.desk.machine
    red = _point(session, "RED on")
    black = _point(session, "BLACK on") if red else None
    if not red or not black:
        return None
    index = talk.choose("Which meter? ", [SAYS[one] for one in METERS])
    if index is None:
        return None
    meter = METERS[index]
    conditions = [c for c in machine.conditions.values() if c.dead or meter not in RESISTANCE]
    at = talk.choose("In which state? ", [c.says for c in conditions])
    if at is None:
        return None
    name = probe_id(red, black, meter, conditions[at].id)
    try:
        parse_probe(name, machine)
    except FaultkitError as error:
        talk.tell(str(error), "! ")
        return None
    return name


def _point(session: Session, question: str) -> str | None:
    talk = session.talk
    while True:
        wanted = talk.ask(f"{question} (device, wire number or terminal): ", POINT)
        if not wanted:
            return None
        points = find_points(session.desk.machine, wanted)
        if len(points) == 1 or wanted in points:
            return wanted if wanted in points else points[0]
        if not points:
            talk.say(f"No point holds {wanted!r}.")
            continue
        if len(points) > LISTED:
            talk.say(f"{len(points)} fit; the first {LISTED}:")
        index = talk.choose("Which point? ", points[:LISTED])
        if index is not None:
            return points[index]

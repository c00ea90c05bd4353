"""The call-out in words: what is asked, what was said, and which caution that brings."""

from dataclasses import replace

from faultkit.job.events import CalledOut, Load, Secured

LOADS: dict[Load, str] = {
    "none": "none", "hanging": "HANGING", "unknown": "not known"}
NEXT_LOAD: dict[Load, Load] = {"unknown": "hanging", "hanging": "none", "none": "unknown"}

TURNED: dict[str, str] = {
    "load": "Load on the hook",
    "people": "People work or walk below",
    "slips": "Load sinks or brake slips",
    "dead_only": "Dead work only in this job",
}
"""What is answered by turning, with its question."""

TYPED: dict[str, str] = {
    "who": "Who called",
    "asset": "Tag of the machine",
    "site": "Where it stands",
    "complaint": "Complaint in their words",
    "changed": "What was changed last",
}
"""What is answered in words."""

WIDE = max(len(says) for says in (*TURNED.values(), *TYPED.values()))

SECURED: dict[Secured, str] = {
    "landed": "The load is landed",
    "held otherwise": "It cannot be landed and is held by other means",
    "area closed": "It cannot be reached; the area below is closed off",
}
HOW = "How, and by whom"

NOBODY = "Nobody under the load, nobody near rope, drum and hook."
BY_MEANS = ("Lower it by the means the maker provides for that, never by holding a contactor in "
            "by hand.")
STOPS = ("Where neither can be done: close off the area below and stop here until a qualified "
         "person decides.")


def value_of(call: CalledOut, name: str) -> str:
    """One answer in words; a dash where nothing was said."""
    given = getattr(call, name)
    if name == "load":
        return LOADS[call.load]
    if name in TURNED:
        return "YES" if given else "no"
    return str(given) or "-"


def turned(call: CalledOut, name: str) -> CalledOut:
    """The call-out with one answer turned to the next one."""
    match name:
        case "load":
            return replace(call, load=NEXT_LOAD[call.load])
        case "people":
            return replace(call, people=not call.people)
        case "slips":
            return replace(call, slips=not call.slips)
        case _:
            return replace(call, dead_only=not call.dead_only)


def typed(call: CalledOut, name: str, text: str) -> CalledOut:
    """The call-out with one answer in words."""
    match name:
        case "who":
            return replace(call, who=text)
        case "asset":
            return replace(call, asset=text)
        case "site":
            return replace(call, site=text)
        case "complaint":
            return replace(call, complaint=text)
        case _:
            return replace(call, changed=text)


def what_it_brings(call: CalledOut, *, danger: bool) -> tuple[str, ...]:
    """Cautions that follow from the answers, the most pressing first."""
    found = []
    if danger:
        found.append("! The load comes first: it is landed or secured before anything is measured.")
    elif call.load == "unknown":
        found.append("! Look at the hook before anything else.")
    if call.people:
        found.append("! Send everybody away from below, and keep it clear.")
    if call.dead_only:
        found.append("Tests under voltage are neither proposed nor taken in this job.")
    return tuple(found)

"""Remarks, and bridges that were found."""

from faultkit.job.events import BridgeFound, BridgeRemoved, Remarked
from faultkit.terminal.plain.session import Session

WHERE = "Name the two points, or the device that is bridged: -B1:21 to -B1:22. Empty goes back."


def remark(session: Session) -> None:
    """Take a note in the electrician's words."""
    text = session.talk.ask("Your remark (empty goes back): ",
                            "Anything worth reading in the report.")
    if text:
        session.tell(Remarked(text))


def bridge(session: Session) -> None:
    """Note a bridge that was found, or that one is out."""
    desk, talk = session.desk, session.talk
    talk.tell("A bridged safety device is never put up with: it must be out before hand-over.",
              "! ")
    rows = [f"Removed: {where}" for where in desk.state.bridges]
    index = talk.choose("Which? ", [*rows, "A bridge was found"])
    if index is None:
        return
    if index < len(rows):
        session.tell(BridgeRemoved(desk.state.bridges[index]))
        return
    where = talk.ask("Where is it? ", WHERE)
    if where and session.tell(BridgeFound(where)) and talk.sure(
            "Is it out already?", "y once the bridge is removed.", usual=False):
        session.tell(BridgeRemoved(where))

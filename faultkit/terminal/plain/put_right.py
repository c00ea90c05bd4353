"""Putting it right: the part, the work, the test that found it once more, the complaint."""

from faultkit.errors import FaultkitError
from faultkit.job.events import Repaired
from faultkit.job.records import Finding
from faultkit.terminal.plain.session import Session
from faultkit.terminal.plain.switching import ready_for, switch
from faultkit.terminal.wording.asking import choices, understood
from faultkit.terminal.wording.repairing import TRY, complaint_to_try, that_found_it
from faultkit.terminal.wording.words import reading_text
from faultkit.vocabulary.diagnosis import Reading


def put_right(session: Session, remedy: str) -> bool:
    """Carry out a remedy and tell how it ended; False where it was broken off."""
    desk, talk = session.desk, session.talk
    finding = session.assessment.so_far if session.assessment else None
    if not _work(session, remedy):
        return False
    repeated, reading = _repeat(session, finding)
    if desk.state.dead and not _live_again(session):
        return False
    talk.tell(TRY)
    talk.tell(f"It was: {complaint_to_try(desk.machine, desk.state)}", "  ")
    cured = talk.sure("Is the complaint gone?", "y: it works now; n: the complaint is still "
                      "there, and the search goes on with that knowledge.")
    note = talk.ask("A word on the repair (Enter: none): ", "Part fitted, what was seen.")
    return session.tell(Repaired(remedy, cured, repeated, reading, note))


def _work(session: Session, remedy: str) -> bool:
    """The work itself, on a dead machine where it needs that; False where it is broken off."""
    desk, talk = session.desk, session.talk
    if desk.machine.remedies[remedy].dead and (change := desk.change_to(dead=True)) is not None:
        answer = talk.ask("The machine must be dead for this. Enter: go through the "
                          f"{len(change.steps)} steps, d: the work is done already, b: back: ",
                          "Enter makes the machine dead first; d if the part was changed before "
                          "this job was broken off; b goes back.").lower()
        if answer == "d":
            return True
        if answer == "b" or not switch(session, change):
            return False
    answer = talk.ask("Do the work. Enter when it is done, b breaks it off: ",
                      "Enter once the part is changed or the fault put right.")
    return answer.lower() != "b"


def _repeat(session: Session, finding: Finding | None) -> tuple[str, Reading | None]:
    """Repeat the test that found the fault; nothing where there is none, or it is left out."""
    test = that_found_it(session.desk.machine, session.desk.state, finding)
    if test is None:
        return "", None
    desk, talk = session.desk, session.talk
    talk.tell(f"Repeat the test that found it: {test.does} "
              f"[{desk.machine.conditions[test.condition].says}]")
    old = next(e for e in reversed(desk.state.entries) if e.test == test.id)
    talk.tell(f"Before the repair it read {reading_text(test, old.reading)}.", "  ")
    if not ready_for(session, test.id):
        return "", None
    if test.words:
        talk.tell(f"Words: {choices(test)}", "  ")
    while True:
        answer = talk.ask("Reading now (s leaves it out): ",
                          "What the meter shows now; s if the test is not repeated.")
        if answer.lower() == "s":
            return "", None
        try:
            reading = understood(test, answer)
        except FaultkitError as error:
            talk.tell(str(error), "! ")
            continue
        talk.tell(f"It reads {reading_text(test, reading)} now.", "  ")
        return test.id, reading


def _live_again(session: Session) -> bool:
    change = session.desk.change_to(dead=False)
    return change is None or switch(session, change)

"""Changing and withdrawing readings, with what that alters shown before it is done."""

from faultkit.errors import FaultkitError
from faultkit.job.events import Event, ReadingChanged, ReadingWithdrawn
from faultkit.job.records import Assessment, Entry
from faultkit.terminal.plain.session import Session
from faultkit.terminal.wording.altering import next_says, suspects_say
from faultkit.terminal.wording.asking import choices, understood
from faultkit.terminal.wording.words import reading_text
from faultkit.vocabulary.says import percent


def change_readings(session: Session) -> str | None:
    """Choose a reading, say what it was in truth, see what that alters, confirm.

    Gives the id of a test that is to be made again.
    """
    desk, talk = session.desk, session.talk
    entries = desk.state.entries
    if not entries:
        talk.say("No reading yet.")
        return None
    doubted = {d.number: d.wrong for d in session.assessment.doubts} if session.assessment else {}
    index = talk.choose("Change which reading? ", [_row(session, e, doubted) for e in entries])
    return None if index is None else _change(session, entries[index])


def _row(session: Session, entry: Entry, doubted: dict[int, float]) -> str:
    test = session.desk.test(entry.test)
    doubt = (f" (in doubt: {percent(doubted[entry.number])} that it is wrong)"
             if entry.number in doubted else "")
    return f"{reading_text(test, entry.reading)}: {test.does}{doubt}"


def _change(session: Session, entry: Entry) -> str | None:
    desk, talk = session.desk, session.talk
    test = desk.test(entry.test)
    if test.words:
        talk.say(choices(test))
    answer = talk.ask("What was it in truth (empty takes it back, a takes it again, b leaves it): ",
                      "The reading as it was; an empty line withdraws it; a makes the test again; "
                      "b leaves it as it is.")
    if answer.lower() in ("a", "b"):
        return test.id if answer.lower() == "a" else None
    try:
        event: Event = (ReadingChanged(entry.number, understood(test, answer)) if answer
                        else ReadingWithdrawn(entry.number))
        before, after = desk.preview(event)
    except FaultkitError as error:
        talk.tell(str(error), "! ")
        return None
    _compare(session, before, after)
    if talk.sure("Do it?", "Enter or y: it is changed; n: it stays as it was.", usual=True):
        session.tell(event)
        session.think()
    return None


def _compare(session: Session, before: Assessment, after: Assessment) -> None:
    """What a change would alter: suspects and the next step, before and after."""
    machine = session.desk.machine
    for when, found in (("Before", before), ("After", after)):
        session.talk.say(f"{when}:")
        for row in suspects_say(found):
            session.talk.tell(row, "  ")
        session.talk.tell(next_says(machine, found), "  Next: ")

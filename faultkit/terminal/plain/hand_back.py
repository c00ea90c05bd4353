"""Handing back: every safety function proved, then the job is closed."""

from faultkit.job.advice import nothing_found
from faultkit.job.events import Closed, Closing, ProofMade
from faultkit.job.permit import unproved
from faultkit.terminal.plain.session import Session
from faultkit.terminal.plain.switching import switch
from faultkit.terminal.wording.cautions import DECIDES
from faultkit.terminal.wording.handing import (
    CLOSINGS,
    NO_LOAD,
    OUT,
    REASONS,
    in_the_way,
    proof_mark,
)
from faultkit.vocabulary.machine import SafetyFunction

CAN = ("p it passed; f it failed; Enter leaves it for now; m back to measuring; "
       "c closes the job.")
BACK, CLOSED = "back", "closed"
HOWS: dict[str, Closing] = {str(digit): how for digit, how in enumerate(CLOSINGS, 1)}


def hand_back(session: Session) -> str:
    """Prove function after function and close. BACK where the search goes on."""
    desk, talk = session.desk, session.talk
    talk.say("\nHAND BACK. Prove each safety function.")
    for caution in (NO_LOAD, OUT, DECIDES):
        talk.tell(caution, "! ")
    if desk.state.dead:
        change = desk.change_to(dead=False)
        if change is not None and not switch(session, change):
            return BACK
    while True:
        _list(session)
        left = unproved(desk.state, desk.machine)
        for name in left:
            ends = _prove(session, desk.machine.safety[name])
            if ends == BACK:
                return BACK
            if ends == CLOSED:
                break
        if close(session, usual="" if unproved(desk.state, desk.machine) else "1"):
            return CLOSED
        answer = talk.ask("Enter: the list of proofs again, m: back to measuring: ",
                          "Enter goes through what is not proved; m goes on measuring.")
        if answer.lower() == "m":
            return BACK


def _list(session: Session) -> None:
    state, talk = session.desk.state, session.talk
    proofs = {p.function: p for p in state.proofs}
    for function in session.desk.machine.safety.values():
        mark = proof_mark(proofs.get(function.id))
        talk.tell(f"{function.says}: {function.expect}", "  ", f"{mark} ")
    for line in in_the_way(session.desk.machine, state):
        talk.tell(line)


def _prove(session: Session, function: SafetyFunction) -> str:
    """Prove one function; says how to go on."""
    talk = session.talk
    talk.say("")
    talk.tell(f"PROVE: {function.says}")
    talk.tell(f"Expected: {function.expect}", "  ")
    while True:
        answer = talk.ask("p passed, f failed, Enter later, m measure on, c close: ", CAN).lower()
        if answer in ("m", "c"):
            return BACK if answer == "m" else CLOSED
        if not answer:
            return ""
        if answer in ("p", "f"):
            seen = talk.ask("What was read or seen (Enter: as expected): ",
                            "Centimetres of sinking, seconds, what happened.")
            who = session.name("Who proved it")
            session.tell(ProofMade(function.id, answer == "p", who, seen))
            return ""
        talk.say("Type p, f, m, c or Enter.")


def close(session: Session, usual: str = "") -> bool:
    """Close the job; False where it stays open."""
    talk = session.talk
    talk.say("\nHow is it handed over?")
    for digit, how in HOWS.items():
        talk.say(f"{digit:>3}  {CLOSINGS[how]}")
    talk.say("  0  back, the job stays open")
    prompt = f"Number (Enter: {usual}): " if usual else "Number: "
    while True:
        answer = talk.ask(prompt, "1 needs every proof passed and no bridge left; 2 and 3 want "
                          "a reason.") or usual
        if answer in ("", "0"):
            return False
        if answer not in HOWS:
            talk.say("Type a number from 0 to 3.")
        elif _closed(session, HOWS[answer]):
            return True


def _closed(session: Session, how: Closing) -> bool:
    reason = session.talk.ask(f"{REASONS[how]}: ", "It stands in the report; it must not be "
                              "empty.") if REASONS[how] else ""
    return session.tell(Closed(how, session.name("Who hands over"), reason))


def works_now(session: Session) -> None:
    """It works now and nothing was found: what to do about it."""
    session.talk.say("\nIt works now, and nothing was found. That is an honest result.")
    for line in nothing_found(session.desk.machine, session.desk.state):
        session.talk.tell(line, "- ")

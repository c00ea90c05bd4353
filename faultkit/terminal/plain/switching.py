"""Making the machine dead, and live again: step by step, each one acknowledged."""

from faultkit.terminal.desk import Change
from faultkit.terminal.plain.session import Session
from faultkit.terminal.wording.words import minutes

CAN = "Enter once this step is done; b if it cannot be done: then nothing is noted."


def switch(session: Session, change: Change) -> bool:
    """Go through a procedure; False where the person breaks it off, and nothing is noted."""
    talk = session.talk
    goal = "DEAD and locked" if change.dead else "LIVE again"
    talk.say("")
    talk.tell(f"The machine must be made {goal}: {len(change.steps)} steps, "
              f"{minutes(change.minutes)}. Acknowledge each one when it is done.")
    for number, step in enumerate(change.steps, 1):
        talk.tell(step.says, head=f"{number:>3}. ")
        for caution in step.cautions:
            talk.tell(caution, "     ! ")
        while answer := talk.ask("     Done? Enter: yes, b: breaks off: ", CAN).lower():
            if answer == "b":
                talk.tell("Broken off; nothing is noted. Leave the machine in a safe state.", "! ")
                return False
            if answer in ("y", "yes", "1"):
                break
            talk.say("     Enter when it is done, b to break off.")
    return session.tell(change.event)


def ready_for(session: Session, test: str) -> bool:
    """See to it that the machine is in a state in which a test may be made."""
    change = session.desk.needed(test)
    return change is None or switch(session, change)

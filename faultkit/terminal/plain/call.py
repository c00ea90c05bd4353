"""The call-out, and the load that comes before everything else."""

from dataclasses import replace

from faultkit.job.events import CalledOut, LoadSecured
from faultkit.job.events import Load as Hook
from faultkit.terminal.plain.session import Session
from faultkit.terminal.wording.call import BY_MEANS, HOW, NOBODY, SECURED, STOPS, TURNED, TYPED
from faultkit.terminal.wording.call import typed as answered

CAN = "Type it in a few words; Enter leaves it as it is; . leaves the rest as it is."
LOADS: dict[str, Hook] = {"1": "none", "2": "hanging", "3": "unknown"}
HOWS = dict(enumerate(SECURED, 1))


def call_out(session: Session) -> None:
    """Ask who called for what, the dangers first; told as one event, if anything was said."""
    talk, call = session.talk, session.desk.state.call
    talk.say("\nThe call-out. The dangers first; ? says what can be typed.")
    told = replace(
        call, load=_load(session, call.load),
        people=talk.sure(f"{TURNED['people']}?", "Whether anybody can be under the hook.",
                         usual=call.people),
        slips=talk.sure(f"{TURNED['slips']}?", "Yes if the load moves by itself or runs on "
                        "after stopping.", usual=call.slips),
        dead_only=talk.sure(f"{TURNED['dead_only']}?", "Yes: no test under voltage is proposed "
                            "or taken.", usual=call.dead_only))
    told = _words(session, told)
    if told != call:
        session.tell(told)


def _load(session: Session, usual: Hook) -> Hook:
    digits = {word: digit for digit, word in LOADS.items()}
    while True:
        answer = session.talk.ask(
            f"Load on the hook: 1 none, 2 hanging, 3 not known (Enter: {digits[usual]}): ",
            "1 if the hook is empty, 2 if something hangs on it, 3 if nobody can tell.")
        if not answer:
            return usual
        if answer in LOADS:
            return LOADS[answer]
        session.talk.say("Type 1, 2 or 3.")


def _words(session: Session, call: CalledOut) -> CalledOut:
    for name, question in TYPED.items():
        before = str(getattr(call, name))
        usual = f" (Enter: {before})" if before else ""
        answer = session.talk.ask(f"{question}{usual}: ", CAN)
        if answer == ".":
            break
        if answer:
            call = answered(call, name, answer)
    return call


def secure(session: Session) -> None:
    """See to it that the load is dealt with. Nothing goes on before."""
    talk = session.talk
    talk.say("\nFIRST: land or secure the load. Nothing is measured before that.")
    for caution in (NOBODY, BY_MEANS, STOPS):
        talk.tell(caution, "! ")
    for digit, says in HOWS.items():
        talk.say(f"{digit:>3}  {SECURED[says]}")
    talk.say("  c  correct the call-out")
    while session.desk.state.danger:
        answer = talk.ask("How is the load secured? ", "The number of a row. Nothing is measured "
                          "before that; c if the call-out was wrong.")
        if answer == "c":
            call_out(session)
        elif answer in ("1", "2", "3"):
            how = HOWS[int(answer)]
            note = "" if how == "landed" else talk.ask(f"{HOW}: ", CAN)
            session.tell(LoadSecured(how, note))
        else:
            talk.say("Type 1, 2, 3 or c.")

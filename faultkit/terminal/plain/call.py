"""The call-out, and the load that comes before everything else."""

from faultkit.job.events import CalledOut, LoadSecured, Secured
from faultkit.job.events import Load as Hook
from faultkit.terminal.plain.session import Session

CAN = "Type it in a few words; Enter leaves it as it is; . leaves the rest as it is."
LOADS: dict[str, Hook] = {"1": "none", "2": "hanging", "3": "unknown"}
HOWS: dict[str, Secured] = {"1": "landed", "2": "held otherwise", "3": "area closed"}
WORDS = (
    ("who", "Who called"),
    ("asset", "Tag or number of the machine"),
    ("site", "Where it stands"),
    ("complaint", "The complaint in the operator's words"),
    ("changed", "What was worked on or changed last"),
)
SECURE = ("1 landed; 2 held by other means; 3 it cannot be reached now, and the area below is "
          "closed off. Nothing is measured before that.")


def call_out(session: Session) -> None:
    """Ask who called for what, the dangers first; told as one event, if anything was said."""
    talk, call = session.talk, session.desk.state.call
    talk.say("\nThe call-out. The dangers first; ? says what can be typed.")
    told = CalledOut(
        load=_load(session, call.load),
        people=talk.sure("Do people work or walk below?", "Whether anybody can be under the hook.",
                         usual=call.people),
        slips=talk.sure("Does the load sink, or does the brake slip?",
                        "Yes if the load moves by itself or runs on after stopping.",
                        usual=call.slips),
        dead_only=talk.sure("Dead work only in this job?",
                            "Yes: no test under voltage is proposed or taken.",
                            usual=call.dead_only),
        **_words(session, call))
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


def _words(session: Session, call: CalledOut) -> dict[str, str]:
    given: dict[str, str] = {name: getattr(call, name) for name, _ in WORDS}
    for name, question in WORDS:
        usual = f" (Enter: {given[name]})" if given[name] else ""
        answer = session.talk.ask(f"{question}{usual}: ", CAN)
        if answer == ".":
            break
        given[name] = answer or given[name]
    return given


def secure(session: Session) -> None:
    """See to it that the load is dealt with. Nothing goes on before."""
    talk = session.talk
    talk.say("\nFIRST: land or secure the load. Nothing is measured before that.")
    talk.tell("Nobody under the load or near rope and drum. Lower it by the means the maker "
              "provides for that, never by holding a contactor in.", "! ")
    while session.desk.state.danger:
        answer = talk.ask("Done: 1 landed, 2 held by other means, 3 area below closed off; "
                          "c corrects the call-out: ", f"{SECURE} c corrects the call-out.")
        if answer == "c":
            call_out(session)
        elif answer in HOWS:
            how = HOWS[answer]
            note = "" if how == "landed" else talk.ask("How, in a few words: ", CAN)
            session.tell(LoadSecured(how, note))
        else:
            talk.say("Type 1, 2, 3 or c.")

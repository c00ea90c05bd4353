"""The complaint: symptoms in a numbered list, ticked as shown or working."""

from collections.abc import Collection

from faultkit.terminal.desk import differences
from faultkit.terminal.plain.session import Session
from faultkit.terminal.wording.complaint import grouped, symptom_row

ASKS = ("Number for what shows, w and number for what works, - and "
        "number for neither, a word to search, ? the list, 0 go on: ")


def complain(session: Session) -> None:
    """Ask what shows and what works."""
    desk, talk = session.desk, session.talk
    marks = {t.symptom: t.shows for t in desk.state.told}
    numbered = dict(enumerate((s.id for _, group in grouped(desk.machine) for s in group), 1))
    talk.say("\nWhat is the complaint, and what works?")
    _list(session, numbered, marks)
    while (answer := talk.ask(ASKS)) not in ("", "0"):
        wanted = "" if answer == "?" else _mark(session, answer, numbered, marks)
        if wanted is None:
            _list(session, numbered, marks, only=marks)
        else:
            _list(session, numbered, marks, wanted)
    for event in differences(desk.state, marks):
        session.tell(event)


def _list(session: Session, numbered: dict[int, str], marks: dict[str, bool], wanted: str = "",
          only: Collection[str] | None = None) -> None:
    """Rows that hold `wanted`, under the numbers they have in the whole list."""
    order = {name: number for number, name in numbered.items()}
    listed = 0
    for heading, group in grouped(session.desk.machine, wanted):
        symptoms = [s for s in group if only is None or s.id in only]
        listed += len(symptoms)
        if symptoms:
            session.talk.say(heading)
        for symptom in symptoms:
            session.talk.tell(symptom_row(symptom, marks.get(symptom.id), "").lstrip(),
                              head=f"{order[symptom.id]:>3} ")
    if not listed:
        session.talk.say(f"Nothing holds {wanted!r}." if only is None else "Nothing is marked.")


def _mark(session: Session, answer: str, numbered: dict[int, str],
          marks: dict[str, bool]) -> str | None:
    """Take marks over; gives the word to search for, if it was one."""
    words = answer.replace(",", " ").lower().split()
    if words and words[0] in ("w", "-") and len(words) == 2:
        words = ["".join(words)]
    for word in words:
        sign, digits = (word[0], word[1:]) if word[0] in "w-" else ("", word)
        if not digits.isdecimal():
            return answer
        name = numbered.get(int(digits))
        if name is None:
            session.talk.say(f"There is no number {digits} in the list.")
        elif sign == "-":
            marks.pop(name, None)
        else:
            marks[name] = sign != "w"
    return None

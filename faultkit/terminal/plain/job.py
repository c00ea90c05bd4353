"""One job, line by line: what comes next follows from the state, so it can go on anywhere."""

from collections.abc import Callable
from typing import Literal

from faultkit.errors import FaultkitError
from faultkit.job.events import Reopened
from faultkit.job.records import Finding
from faultkit.terminal.library import Book
from faultkit.terminal.plain.bench import Bench
from faultkit.terminal.plain.call import call_out, secure
from faultkit.terminal.plain.complaint import complain
from faultkit.terminal.plain.hand_back import CLOSED, close, hand_back, works_now
from faultkit.terminal.plain.notes import bridge, remark
from faultkit.terminal.plain.put_right import put_right
from faultkit.terminal.plain.readings import change_readings
from faultkit.terminal.plain.session import Session
from faultkit.terminal.plain.shown import say_finding
from faultkit.terminal.plain.switching import switch
from faultkit.terminal.wording.cautions import FIVE_RULES
from faultkit.terminal.wording.explain import suspects_page
from faultkit.terminal.wording.finding import answers

LETTERS = {
    "s": "can't get at it", "t": "other test", "e": "free entry", "u": "undo",
    "r": "readings", "w": "why", "p": "suspects", "f": "finding", "d": "dead/live",
    "c": "complaint", "k": "call-out", "l": "load", "b": "bridge", "n": "note",
    "x": "it works now", "h": "hand back", "v": "report", "?": "help", "q": "quit",
}
ROW = ", ".join(f"{letter} {says}" for letter, says in LETTERS.items())
FORMS = {"Save it as HTML, to print and sign": "html", "Save it as Markdown": "md",
         "Save it as JSON": "json"}
Going = Literal["on", "done"]


class PlainJob:
    """Asks until the job is closed or the person leaves."""

    def __init__(self, session: Session, book: Book) -> None:
        self.session = session
        self.desk, self.talk = session.desk, session.talk
        self._book = book
        self.bench = Bench(session)
        self._letters: dict[str, Callable[[], object]] = {
            "s": self.bench.skip, "t": self.bench.other, "e": self.bench.free, "u": self._undo,
            "r": self._readings, "w": self.bench.why, "p": self._suspects,
            "f": self._finding, "d": self._switch, "c": self._complaint, "k": self._call,
            "b": lambda: bridge(session), "n": lambda: remark(session), "x": self._works,
            "h": self._hand_over, "v": self._view, "l": self._load, "?": self._help,
            "help": self._help,
        }

    def run(self) -> None:
        """From the call-out, or from where the job stands, to its end. Raises Left."""
        if not self.desk.events:
            call_out(self.session)
        if self.desk.state.danger:
            secure(self.session)
        state = self.desk.state
        if not state.entries and not state.repaired and state.closed is None:
            complain(self.session)
        self.session.think(aloud=state.closed is None and not self.desk.cured)
        while self._step() == "on":
            pass

    def _step(self) -> Going:
        """The next thing to do in this state."""
        if self.desk.state.closed is not None:
            return self._closed()
        if self.desk.state.danger:
            secure(self.session)
        elif self.desk.cured and not self.bench.measuring:
            self._hand_back()
        elif self._stands() and not self.bench.measuring:
            self._finding()
        else:
            self._measure()
        return "on"

    def _measure(self) -> None:
        self.bench.propose()
        self.talk.tell(f"({ROW})")
        while True:
            answer = self.talk.ask(self.bench.asks)
            command = self._letters.get(answer.lower())
            if command is not None:
                command()
                return
            if self.bench.take(answer):
                return

    def _closed(self) -> Going:
        closed = self.desk.state.closed
        assert closed is not None
        self.talk.say(f"\nThis job is closed: {closed.how}.")
        index = self.talk.choose("Number (0 leaves): ", [
            "The report", "A remark", "Reopen it"])
        if index is None:
            return "done"
        if index == 0:
            self._view()
        elif index == 1:
            remark(self.session)
        elif self.session.tell(Reopened()):
            self.session.think(aloud=False)
        return "on"

    # --- the finding and what follows it ----------------------------------------------------

    def _stands(self) -> bool:
        """Whether there is a finding that nothing need confirm any more."""
        return bool(self.session.assessment and self.session.assessment.finding)

    def _found(self) -> Finding | None:
        return self.session.assessment.so_far if self.session.assessment else None

    def _finding(self) -> None:
        """Tell the finding and take the answer to it."""
        finding = self._found()
        if finding is None:
            self.talk.say("There is no finding yet.")
            return
        say_finding(self.talk, self.desk, finding)
        given = answers(self.desk.machine, finding)
        self.talk.say("")
        for digit, (_, says) in given.items():
            self.talk.tell(says, f"{digit:>3}  ")
        while (answer := self.talk.ask("Your answer: ", "The number of a row; or a letter: "
                                       f"{ROW}.").lower()) not in given:
            command = self._letters.get(answer)
            if command is not None:
                command()
                return
            self.talk.say(f"Type one of {', '.join(given)}, a letter, or q to leave.")
        what, _, name = given[answer][0].partition(":")
        if what == "do":
            if put_right(self.session, name):
                self.bench.go_on()
                self.session.think(aloud=not self.desk.cured)
        elif what == "test":
            self.bench.choose(name)
        elif what == "works":
            self._works()
        else:
            self.bench.measure_on()

    def _hand_back(self) -> None:
        """Prove and close, or go on measuring."""
        if hand_back(self.session) != CLOSED:
            self.bench.measure_on()

    # --- letters ----------------------------------------------------------------------------

    def _undo(self) -> None:
        self.session.undo()
        self.bench.go_on()
        self.session.think()

    def _readings(self) -> None:
        before = self.desk.state
        again = change_readings(self.session)
        if again is not None:
            self.bench.choose(again)
        elif self.desk.state != before:
            self.bench.go_on()

    def _suspects(self) -> None:
        if self.session.assessment is not None:
            self.talk.page(suspects_page(self.desk.machine, self.session.assessment))

    def _switch(self) -> None:
        change = self.desk.change_to(dead=not self.desk.state.dead)
        if change is None:
            self.talk.say("This machine describes no such state.")
        elif switch(self.session, change):
            self.session.think(aloud=False)

    def _complaint(self) -> None:
        complain(self.session)
        self.bench.go_on()
        self.session.think()

    def _call(self) -> None:
        call_out(self.session)
        self.bench.go_on()
        self.session.think(aloud=False)

    def _view(self) -> None:
        """The report as it stands: read, or saved."""
        rows = ["Read it here", *FORMS]
        index = self.talk.choose("Number: ", rows)
        if index is None:
            return
        try:
            if index == 0:
                for row in self._book.report(self.desk.engine).splitlines():
                    self.talk.say(row)
            else:
                self.talk.say(self._book.save_report(self.desk.engine, FORMS[rows[index]]))
        except FaultkitError as error:
            self.talk.tell(str(error), "! ")

    def _load(self) -> None:
        if self.desk.state.danger:
            secure(self.session)
        else:
            self.talk.say("Nothing hangs over anybody, as far as the call-out says. k changes it.")

    def _works(self) -> None:
        works_now(self.session)
        if not close(self.session, usual="3"):
            self.bench.measure_on()

    def _hand_over(self) -> None:
        """Hand over now: by the proofs, or as not fit for use."""
        if self.talk.sure("Go through the proofs first?", "y: function after function; "
                          "n: straight to the closing.", usual=True):
            self._hand_back()
        else:
            close(self.session)

    def _help(self) -> None:
        self.talk.page((
            ("What to do", (
                ("Do what stands after DO NOW, then type what the meter shows: 24,5 and 24.5 are "
                 "the same, OL is a reading. For words type the number."),
                ("At any question ? says what can be typed, q leaves; what was acknowledged "
                 "with = is kept."))),
            ("Letters", tuple(f"{letter}  {says}" for letter, says in LETTERS.items())),
            ("Before dead work", tuple(f"{n}. {rule}" for n, rule in enumerate(FIVE_RULES, 1))),
            ("For the whole job", self.desk.machine.cautions),
        ))

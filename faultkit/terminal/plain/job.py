"""One job, line by line."""

from collections.abc import Collection

from faultkit.errors import FaultkitError, ReadingError
from faultkit.job.events import (
    ReadingChanged,
    ReadingTaken,
    ReadingWithdrawn,
    Repaired,
    TestSkipped,
)
from faultkit.job.records import Assessment, Entry, Suggestion
from faultkit.terminal.desk import Desk, Engine, tell_differences
from faultkit.terminal.plain.shown import say_finding, say_suspects, say_test
from faultkit.terminal.plain.talk import Talk
from faultkit.terminal.wording.asking import choices, understood
from faultkit.terminal.wording.cautions import FIVE_RULES
from faultkit.terminal.wording.complaint import grouped, symptom_row
from faultkit.terminal.wording.explain import handover_page, suspects_page, why_page
from faultkit.terminal.wording.finding import answers
from faultkit.terminal.wording.words import minutes, reading_text, test_says
from faultkit.vocabulary.diagnosis import Test

LETTERS = ("s can't get at it, t other test, u undo, r readings, w why, p suspects, f finding, "
           "c complaint, h help, q quit")
LISTED = 20
FINISHED = "finished"


class PlainJob:
    """Asks until the machine is cured or the person leaves."""

    def __init__(self, engine: Engine, talk: Talk) -> None:
        self.desk = Desk(engine)
        self.talk = talk
        self.assessment: Assessment = engine.assess(self.desk.state)
        self._chosen: str | None = None
        self._own: Suggestion | None = None
        self._measure_on = False
        """True when a finding was seen and the person goes on measuring."""
        self._commands = {
            "s": self._skip, "t": self._tests, "u": self._undo, "r": self._readings,
            "w": self._why, "p": self._suspects, "f": self._finding, "c": self.complaint,
            "h": self._help,
        }

    def run(self) -> None:
        """From the complaint to the cure. Raises Left when the person leaves."""
        self.complaint()
        while True:
            if self.assessment.finding and not self._measure_on and self._chosen is None:
                if self._finding() == FINISHED:
                    return
                continue
            test = self._test()
            if test is None:
                self.talk.say("\nNo test is left that tells the suspects apart.")
            else:
                say_test(self.talk, self.desk, test, self._suggestion())
            if self._answer(test) == FINISHED:
                return

    # --- the complaint ----------------------------------------------------------------------

    def complaint(self) -> None:
        """Ask what shows and what works."""
        marks = {t.symptom: t.shows for t in self.desk.state.told}
        numbered = dict(enumerate(
            (s.id for _, group in grouped(self.desk.machine) for s in group), 1))
        self.talk.say("\nWhat is the complaint, and what works?")
        self._list_symptoms(numbered, marks)
        while True:
            answer = self.talk.ask("Number for what shows, w and number for what works, - and "
                                   "number for neither, a word to search, ? the list, 0 go on: ")
            if answer in ("", "0"):
                break
            wanted = "" if answer == "?" else self._mark(answer, numbered, marks)
            if wanted is None:
                self._list_symptoms(numbered, marks, only=marks)
            else:
                self._list_symptoms(numbered, marks, wanted)
        tell_differences(self.desk, marks)
        self._think()

    def _list_symptoms(self, numbered: dict[int, str], marks: dict[str, bool], wanted: str = "",
                       only: Collection[str] | None = None) -> None:
        """Rows that hold `wanted`, under the numbers they have in the whole list."""
        order = {name: number for number, name in numbered.items()}
        listed = 0
        for heading, group in grouped(self.desk.machine, wanted):
            symptoms = [s for s in group if only is None or s.id in only]
            listed += len(symptoms)
            if symptoms:
                self.talk.say(heading)
            for symptom in symptoms:
                self.talk.tell(symptom_row(symptom, marks.get(symptom.id), "").lstrip(),
                               head=f"{order[symptom.id]:>3} ")
        if not listed:
            self.talk.say(f"Nothing holds {wanted!r}." if only is None else "Nothing is marked.")

    def _mark(self, answer: str, numbered: dict[int, str], marks: dict[str, bool]) -> str | None:
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
                self.talk.say(f"There is no number {digits} in the list.")
            elif sign == "-":
                marks.pop(name, None)
            else:
                marks[name] = sign != "w"
        return None

    # --- the bench --------------------------------------------------------------------------

    def _test(self) -> Test | None:
        suggestion = self._suggestion()
        return self.desk.machine.tests[suggestion.test] if suggestion else None

    def _suggestion(self) -> Suggestion | None:
        if self._chosen is not None:
            return self._own
        return self.assessment.next[0] if self.assessment.next else None

    def _think(self) -> None:
        """Work the state out anew and tell who is suspected."""
        self._chosen, self._own, self._measure_on = None, None, False
        try:
            self.assessment = self.desk.engine.assess(self.desk.state)
        except FaultkitError as error:
            self.talk.tell(f"{error} u takes the last step back.", "! ")
            return
        say_suspects(self.talk, self.assessment)

    def _answer(self, test: Test | None) -> str | None:
        self.talk.tell(f"({LETTERS})")
        while True:
            answer = self.talk.ask("Reading: " if test else "Letter: ")
            command = self._commands.get(answer.lower())
            if command is not None:
                return command()
            if test is None or not answer:
                self.talk.say("Type a reading or a letter; h helps.")
                continue
            if self._take(test, answer):
                return None

    def _take(self, test: Test, answer: str) -> bool:
        try:
            reading = understood(test, answer)
            self.desk.tell(ReadingTaken(test.id, reading))
        except FaultkitError as error:
            self.talk.tell(str(error), "! ")
            return False
        self.talk.say(f"= {reading_text(test, reading)}   (u takes it back)")
        self._think()
        return True

    # --- letters ----------------------------------------------------------------------------

    def _skip(self) -> None:
        test = self._test()
        if test is not None:
            self.desk.tell(TestSkipped(test.id))
            self.talk.say("Left out; it is not proposed again. u takes that back.")
            self._think()

    def _undo(self) -> None:
        self.talk.tell(self.desk.undo())
        self._think()

    def _tests(self) -> None:
        """Take any test: by number from those worth it, or by searching all."""
        worth = {one.test: one for one in self.assessment.next}
        wanted = self.talk.ask("Part of a device, wire or place; empty for the best ones: ")
        words = wanted.lower().split()
        tests = [test for test in self.desk.machine.tests.values()
                 if all(word in f"{test.id} {test.does} {test.place}".lower() for word in words)]
        if not words:
            tests = [self.desk.machine.tests[name] for name in worth]
        rows = []
        for test in tests[:LISTED]:
            one = worth.get(test.id)
            cost = minutes(one.minutes if one else test.minutes)
            gain = f", {one.gain_bits:.1f} bit" if one else ""
            rows.append(f"{test_says(self.desk.machine, test)} ({cost}{gain})")
        if len(tests) > LISTED:
            self.talk.say(f"{len(tests)} match; the first {LISTED}:")
        index = self.talk.choose("Which test? ", rows) if rows else None
        if index is None:
            return
        self._chosen = tests[index].id
        self._own = worth.get(self._chosen) or self.desk.engine.consider(
            self.desk.state, self._chosen)

    def _readings(self) -> None:
        entries = self.desk.state.entries
        if not entries:
            self.talk.say("No reading yet.")
            return
        tests = self.desk.machine.tests
        index = self.talk.choose("Change which reading? ", [
            f"{reading_text(tests[e.test], e.reading)}: {tests[e.test].does}" for e in entries])
        if index is not None:
            self._change(entries[index])

    def _change(self, entry: Entry) -> None:
        test = self.desk.machine.tests[entry.test]
        if test.words:
            self.talk.say(choices(test))
        answer = self.talk.ask("What was it in truth (empty takes it back): ")
        try:
            event = (ReadingChanged(entry.number, understood(test, answer)) if answer
                     else ReadingWithdrawn(entry.number))
        except ReadingError as error:
            self.talk.tell(str(error), "! ")
            return
        self.desk.tell(event)
        self._think()

    def _why(self) -> None:
        test = self._test()
        if test is not None:
            entries = self.desk.state.entries
            before = self.desk.machine.tests[entries[-1].test].condition if entries else None
            self.talk.page(why_page(self.desk.machine, test, self._suggestion(), before))

    def _suspects(self) -> None:
        self.talk.page(suspects_page(self.desk.machine, self.assessment))

    def _help(self) -> None:
        self.talk.page((
            ("What to do", (
                "Do what stands after DO NOW, then type what the meter shows: 24,5 and 24.5 are "
                "the same, OL is a reading. For words type the number. " + LETTERS + ".",)),
            ("Before dead work", tuple(f"{n}. {rule}" for n, rule in enumerate(FIVE_RULES, 1))),
            ("For the whole job", self.desk.machine.cautions),
        ))

    def _finding(self) -> str | None:
        """Tell the finding and take the answer to it."""
        finding = self.assessment.finding
        if finding is None:
            self.talk.say("There is no finding yet.")
            return None
        say_finding(self.talk, self.desk, finding)
        given = answers(self.desk.machine, finding)
        self.talk.say("")
        for digit, (_, says) in given.items():
            self.talk.tell(says, f"{digit:>3}  ")
        while (digit := self.talk.ask("Your answer: ")) not in given:
            self.talk.say(f"Type one of {', '.join(given)}, or q to leave.")
        return self._found(given[digit][0])

    def _found(self, answer: str) -> str | None:
        what, _, name = answer.partition(":")
        if what == "test":
            self._chosen = name
            self._own = self.desk.engine.consider(self.desk.state, name)
        elif what in ("cured", "not"):
            self.desk.tell(Repaired(name, cured=what == "cured"))
            if what == "cured":
                self.talk.say("\nRepaired and cured.")
                self.talk.page(handover_page(self.desk.machine))
                return FINISHED
            self.talk.say("Not cured. Readings from before no longer count.")
            self._think()
        else:
            self._measure_on = True
        return None

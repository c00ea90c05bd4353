"""Measuring, line by line: the test proposed or chosen, and its reading."""

from faultkit.errors import FaultkitError
from faultkit.job.events import ReadingTaken, TestSkipped
from faultkit.job.records import Suggestion
from faultkit.terminal.plain.entry import free_entry
from faultkit.terminal.plain.session import Session
from faultkit.terminal.plain.shown import say_test
from faultkit.terminal.plain.switching import switch
from faultkit.terminal.wording.asking import questioned, understood
from faultkit.terminal.wording.explain import why_page
from faultkit.terminal.wording.words import minutes, reading_text, test_says
from faultkit.vocabulary.diagnosis import Test

LISTED = 20


class Bench:
    """Which test is at hand, and what is done with it."""

    def __init__(self, session: Session) -> None:
        self.session = session
        self.desk, self.talk = session.desk, session.talk
        self.measuring = False
        """True when a finding or a cure was seen and the person goes on measuring."""
        self._chosen: str | None = None
        self._own: Suggestion | None = None
        self._sure_of = ""
        """A reading that was questioned, as typed; typed once more it is taken."""

    @property
    def asks(self) -> str:
        """The question for the test at hand."""
        test = self._test()
        if test is None:
            return "Letter: "
        change = self.desk.needed(test.id)
        if change is None:
            return "Reading: "
        goal = "dead and locked" if change.dead else "live again"
        return (f"First the machine must be made {goal}. Enter: go through the "
                f"{len(change.steps)} steps; or a letter: ")

    def go_on(self) -> None:
        """Follow the proposals again."""
        self._chosen, self._own, self.measuring = None, None, False

    def measure_on(self) -> None:
        """Measure although there is a finding."""
        self.measuring = True

    def choose(self, test: str) -> None:
        """Put a test at hand, proposed or not."""
        if self.desk.state.call.dead_only and not self._dead(test):
            self.talk.tell("This job is dead work only. k changes the call-out.", "! ")
            return
        try:
            self._own = self._worth().get(test) or self.desk.engine.consider(
                self.desk.state, test)
        except FaultkitError as error:
            self.talk.tell(str(error), "! ")
            return
        self._chosen, self.measuring = test, True

    def propose(self) -> None:
        """Tell what to do now."""
        if self.session.assessment is None:
            return
        test = self._test()
        if test is None:
            self.talk.say("\nNo test is left that tells the suspects apart.")
            return
        say_test(self.talk, self.desk, test, self._suggestion())

    def take(self, answer: str) -> bool:
        """Take what was typed as the reading, or Enter to make the machine ready for it.

        False where it is neither.
        """
        test = self._test()
        if test is None:
            self.talk.say("Type a letter; ? helps.")
            return False
        change = self.desk.needed(test.id)
        if change is not None:
            if answer:
                self.talk.say("Enter goes through the steps first; ? helps.")
                return False
            if switch(self.session, change):
                self.session.think(aloud=False)
                self.choose(test.id)
            return True
        if not answer:
            self.talk.say("Type a reading or a letter; ? helps.")
            return False
        return self._read(test, answer)

    def _read(self, test: Test, answer: str) -> bool:
        try:
            reading = understood(test, answer)
        except FaultkitError as error:
            self.talk.tell(str(error), "! ")
            return False
        question = questioned(self._suggestion(), reading, reading_text(test, reading))
        if question and self._sure_of != answer:
            self._sure_of = answer
            self.talk.tell(question.replace("Enter once more", "typing it once more"), "? ")
            return False
        if not self.session.tell(ReadingTaken(test.id, reading)):
            return False
        self.go_on()
        self.session.think()
        return True

    def skip(self) -> None:
        """Leave the test out."""
        test = self._test()
        if test is not None and self.session.tell(TestSkipped(test.id)):
            self.go_on()
            self.session.think()

    def other(self) -> None:
        """Take any test: by number from those worth it, or by searching all."""
        worth = self._worth()
        machine = self.desk.machine
        wanted = self.talk.ask("Part of a device, wire or place; empty for the best ones: ",
                               "Words that the test holds, such as -Q2 or pendant.")
        words = wanted.lower().split()
        tests = [test for test in machine.tests.values()
                 if all(word in f"{test.id} {test.does} {test.place}".lower() for word in words)]
        if not words:
            tests = [self.desk.test(name) for name in worth]
        rows = []
        for test in tests[:LISTED]:
            one = worth.get(test.id)
            cost = minutes(one.minutes if one else test.minutes)
            gain = f", {one.gain_bits:.1f} bit" if one else ""
            rows.append(f"{test_says(machine, test)} ({cost}{gain})")
        if len(tests) > LISTED:
            self.talk.say(f"{len(tests)} match; the first {LISTED}:")
        if not rows:
            self.talk.say("No test holds that.")
            return
        index = self.talk.choose("Which test? ", rows)
        if index is not None:
            self.choose(tests[index].id)

    def free(self) -> None:
        """Put a test of one's own together."""
        test = free_entry(self.session)
        if test is not None:
            self.choose(test)

    def why(self) -> None:
        """Tell why this test."""
        test = self._test()
        if test is not None:
            self.talk.page(why_page(self.desk.machine, test, self._suggestion(),
                                    self.desk.condition))

    def _dead(self, test: str) -> bool:
        return self.desk.machine.conditions[self.desk.test(test).condition].dead

    def _worth(self) -> dict[str, Suggestion]:
        found = self.session.assessment
        return {one.test: one for one in found.next} if found else {}

    def _test(self) -> Test | None:
        suggestion = self._suggestion()
        return self.desk.test(suggestion.test) if suggestion else None

    def _suggestion(self) -> Suggestion | None:
        if self._chosen is not None:
            return self._own
        return next(iter(self._worth().values()), None)

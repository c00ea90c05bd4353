"""The bench: one test after the other until the readings leave one remedy."""

from typing import ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.containers import Container, Horizontal
from textual.content import Content
from textual.widgets import Input, OptionList, Static
from textual.worker import Worker, WorkerState

from faultkit.errors import FaultkitError, ReadingError
from faultkit.job.events import Event, ReadingTaken
from faultkit.job.records import JobState, Suggestion
from faultkit.terminal.desk import Change, Desk
from faultkit.terminal.keys import Key, bindings
from faultkit.terminal.screens.bench.entry import ReadingEntry
from faultkit.terminal.screens.bench.keys import HELP, KEYS
from faultkit.terminal.screens.bench.others import OtherTests
from faultkit.terminal.screens.bench.panels import (
    OutcomesView,
    Panel,
    ReadingsView,
    Remarks,
    RunView,
    SuspectsView,
    TaskCard,
)
from faultkit.terminal.screens.bench.thought import Thought
from faultkit.terminal.screens.bench.view import View
from faultkit.terminal.screens.bench.ways import BenchWays
from faultkit.terminal.widgets.bars import KeyBar, TopBar
from faultkit.terminal.widgets.says import Says
from faultkit.terminal.wording.asking import fits, questioned, understood
from faultkit.terminal.wording.words import (
    complaint_says,
    left_says,
    outcome_says,
    reading_text,
)
from faultkit.vocabulary.diagnosis import Reading, Test


class BenchScreen(BenchWays):
    """Do, read, type; again."""

    KEYS: ClassVar[tuple[Key, ...]] = KEYS
    BINDINGS = bindings("bench", KEYS)
    CSS_PATH = "bench.tcss"
    AUTO_FOCUS = "#entry"
    HELP = HELP

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._own: Suggestion | None = None
        self._thinking = True
        self._left_before = ""
        self._news = ""
        """What the last step was; said again with what came of it."""
        self._leaving = False
        self._sure_of = ""

    def compose(self) -> ComposeResult:
        """Panels in reading order; the style sheet places them."""
        yield TopBar()
        with Container(id="body"):
            with Container(id="now"):
                yield TaskCard("task")
                yield RunView("run")
                yield ReadingsView("readings")
            with Container(id="then"):
                yield OutcomesView("outcomes")
                with Container(id="pair"):
                    yield SuspectsView("suspects")
                    yield OtherTests()
        yield Remarks("remarks")
        with Container(id="entry-bar"):
            with Horizontal(id="entry-line"):
                yield Static("Reading", id="asks", markup=False)
                yield ReadingEntry()
                yield Static("", id="echo", markup=False)
            yield Says("", id="status")
        yield KeyBar(self.KEYS)

    def on_mount(self) -> None:
        """Begin to think at once; tell now and then what is waited for."""
        self.set_interval(0.5, self._tell_progress)
        self.think()
        self.call_after_refresh(self.lead)

    def _tell_progress(self) -> None:
        if self._thinking and self.desk.engine.doing:
            self.query_one(TaskCard).show(self.view())

    def on_resize(self) -> None:
        """Lists are cut to the width: fill them anew."""
        self.call_after_refresh(self.draw)

    # --- what is on the bench ---------------------------------------------------------------

    @property
    def suggestion(self) -> Suggestion | None:
        """Cost and outcomes of the test in hand."""
        if self._thinking or self.assessment is None:
            return None
        if self.chosen is not None:
            return self._own
        if self.desk.cured:
            return None
        return self.assessment.next[0] if self.assessment.next else None

    @property
    def test(self) -> Test | None:
        """The test in hand; None while thinking."""
        if self._thinking:
            return None
        name = self.chosen or (self.suggestion.test if self.suggestion else None)
        return self.desk.test(name) if name else None

    @property
    def change(self) -> Change | None:
        """What must be gone through before the test in hand."""
        return self.desk.needed(self.test.id) if self.test is not None else None

    def view(self, typed: Reading | None = None) -> View:
        """Freeze the moment."""
        return View(self.desk.machine, self.desk.state, self.assessment, self.test,
                    self.suggestion, self.desk.cured, self._thinking, self.desk.engine.doing,
                    self.house.glyphs, self.desk.condition, self.change, typed)

    def draw(self) -> None:
        """Show the moment everywhere."""
        view = self.view()
        for panel in self.query(Panel):
            panel.show(view)
        self.query_one(OtherTests).show(view)
        told = tuple((t.symptom, t.shows) for t in self.desk.state.told)
        mood = "thinking ..." if self._thinking else (
            left_says(self.assessment) if self.assessment else "")
        power = "DEAD" if self.desk.state.dead else "LIVE"
        self.top(f"{self.desk.machine.title}: {complaint_says(self.desk.machine, told)}",
                 f"{power}  {mood}")
        words = self.test is not None and bool(self.test.words)
        asks = "Enter: steps" if self.change else "Word no." if words else "Reading"
        self.query_one("#asks", Static).update(Content(asks))
        if not self.query_one(ReadingEntry).value:
            self.query_one("#echo", Static).update(self._before_it())

    def say(self, text: str, style: str = "") -> None:
        """Put a sentence on the status line."""
        self.query_one("#status", Says).say(text, style)

    # --- thinking ---------------------------------------------------------------------------

    def think(self) -> None:
        """Work the state out anew, away from the screen."""
        self._thinking = True
        self._left_before = left_says(self.assessment) if self.assessment else ""
        self.draw()
        self._work(self.desk.state, self.chosen)

    @work(thread=True, exclusive=True, group="thinking", exit_on_error=False)
    def _work(self, state: JobState, chosen: str | None) -> Thought:
        assessment = self.desk.assess()
        listed = {one.test: one for one in assessment.next}
        own = None
        if chosen is not None:
            own = listed.get(chosen) or self.desk.engine.consider(state, chosen)
        return Thought(state, chosen, assessment, own)

    def on_worker_state_changed(self, event: Worker.StateChanged) -> None:
        """Take over what a worker found, or say why it found nothing."""
        worker = event.worker
        if worker.group != "thinking":
            return
        if event.state is WorkerState.ERROR:
            self._thinking = False
            self.draw()
            self.say(f"! {self.house.trouble(worker.error)} Press u to take the last step back.",
                     "bold $error")
        elif event.state is WorkerState.SUCCESS and isinstance(worker.result, Thought):
            self._thought(worker.result)

    def _thought(self, thought: Thought) -> None:
        if thought.state is not self.desk.state or thought.chosen != self.chosen:
            return
        self.assessment, self._own, self._thinking = thought.assessment, thought.own, False
        self.draw()
        left = left_says(thought.assessment)
        moved = bool(self._left_before) and self._left_before != left
        self.say(f"{self._news} {self._left_before}, now {left}." if moved else self._news)
        finding = thought.assessment.finding
        key = (finding.kind, *finding.remedies) if finding else None
        if key not in (None, self.shown_finding) and not self._busy():
            self.shown_finding = key
            self.action_finding()

    def _busy(self) -> bool:
        """The electrician is typing, reading a page, or chose the next test himself."""
        return (bool(self.query_one(ReadingEntry).value) or not self.is_current
                or self.chosen is not None or self.desk.cured
                or self.desk.state.closed is not None)

    # --- readings ---------------------------------------------------------------------------

    @on(Input.Changed, "#entry")
    def _typed(self, event: Input.Changed) -> None:
        test, echo = self.test, self.query_one("#echo", Static)
        outcomes = self.query_one(OutcomesView)
        if test is None or not event.value.strip():
            echo.update(self._before_it())
            outcomes.show(self.view())
            return
        try:
            reading = understood(test, event.value)
        except ReadingError as error:
            echo.update(Content.styled(str(error), "$warning"))
            outcomes.show(self.view())
            return
        hits = [one for one in (self.suggestion.outcomes if self.suggestion else ())
                if fits(one, reading)]
        means = ""
        if self.suggestion is not None:
            means = f"  {outcome_says(self.desk.machine, hits[0])}" if hits else (
                "  fits none of these: look again, or take it as it is")
        echo.update(Content.assemble((f"= {reading_text(test, reading)}", "bold $success"),
                                     means))
        outcomes.show(self.view(reading))

    def _before_it(self) -> Content:
        """What comes before a reading can be typed; empty where nothing does."""
        if self.change is None:
            return Content("")
        goal = "DEAD" if self.change.dead else "LIVE"
        return Content.styled(f"{goal}: {len(self.change.steps)} steps", "bold $warning")

    @on(Input.Submitted, "#entry")
    def _entered(self, event: Input.Submitted) -> None:
        test = self.test
        if test is None:
            self.say("Still thinking. Wait a moment." if self._thinking else
                     "There is no test in hand. Press t to choose one.", "bold $warning")
            return
        if not event.value.strip() and self.change is not None:
            self.action_switch()
            return
        if not event.value.strip():
            self.say("Type what the meter shows, then Enter. F1 explains.", "bold $warning")
            return
        try:
            reading = understood(test, event.value)
        except ReadingError as error:
            self.say(f"! {error}", "bold $warning")
            return
        question = questioned(self.suggestion, reading, reading_text(test, reading))
        if question and self._sure_of != event.value:
            self._sure_of = event.value
            self.say(f"? {question}", "bold $warning")
            return
        self.happen(ReadingTaken(test.id, reading),
                    f"Taken: {reading_text(test, reading)}. u takes it back.")

    def happen(self, event: Event, says: str) -> None:
        """Let an event happen and think again; a refusal is said and changes nothing."""
        try:
            self.desk.tell(event)
        except FaultkitError as error:
            self.say(f"! {error}", "bold $error")
            return
        finally:
            self.mind()
        self.go_on(says)

    def go_on(self, says: str, *, keep: bool = False) -> None:
        """Think again after something happened; `keep` leaves the test in hand."""
        self._leaving = False
        self._sure_of = ""
        if not keep:
            self.chosen = None
        self.query_one(ReadingEntry).clear()
        self.query_one(ReadingEntry).focus()
        self._news = says
        self.say(says)
        self.think()

    def take(self, test: str | None) -> None:
        """Put another test on the bench."""
        if not test:
            return
        self.chosen = test
        self.query_one(ReadingEntry).clear()
        self.query_one(ReadingEntry).focus()
        self._news = "Your choice. Esc goes back to the proposed test."
        self.say(self._news)
        self.think()

    # --- keys -------------------------------------------------------------------------------

    def action_others(self) -> None:
        """Into the list."""
        others = self.query_one(OtherTests)
        if others.option_count:
            others.focus()
            others.highlighted = others.highlighted or 0

    @on(OptionList.OptionSelected, "#others")
    def _chosen(self, event: OptionList.OptionSelected) -> None:
        self.take(event.option_id)

    def action_back(self) -> None:
        """From the list to the field, from an own choice to the proposal, to the start."""
        entry = self.query_one(ReadingEntry)
        if entry.value:
            entry.clear()
        elif self.focused is not entry:
            entry.focus()
        elif self.chosen is not None:
            self.go_on("Back to the proposed test.")
        elif self._leaving or not self.desk.events:
            self.dismiss("")
        else:
            self._leaving = True
            self.say("Esc again leaves this job; it stays open. c changes the complaint.")

    def action_roll(self, lines: int) -> None:
        """Roll the panels of a narrow screen."""
        self.query_one("#body").scroll_relative(y=lines, animate=False)

"""The panels of the bench. Each draws its part of a view for the room it has."""

from textual.content import Content

from faultkit.job.named import named_test
from faultkit.job.records import Outcome
from faultkit.terminal.desk import Change
from faultkit.terminal.screens.bench.run_picture import as_column, as_text
from faultkit.terminal.screens.bench.view import View
from faultkit.terminal.widgets.bars import NARROW
from faultkit.terminal.widgets.drawn import Drawn, cut, wrapped
from faultkit.terminal.wording.asking import choices, fits
from faultkit.terminal.wording.card import card_of
from faultkit.terminal.wording.run import run_of
from faultkit.terminal.wording.words import (
    NOTHING_DESCRIBED,
    bar,
    minutes,
    moved,
    outcome_says,
    reading_text,
    suspect_says,
)
from faultkit.vocabulary.says import on_one_line, percent

LABEL = 8
"""Cells of the labels on the card."""
HIGHEST = 8
"""Lines of the card that every style sheet leaves room for."""
COLUMN = 6
"""Lines from which on the run is drawn as a column."""


class Panel(Drawn):
    """A part of the bench."""

    TITLE = ""

    def __init__(self, id: str) -> None:
        super().__init__(id=id)
        self.view: View | None = None
        self.border_title = self.TITLE

    def show(self, view: View) -> None:
        """Draw a new view."""
        self.view = view
        self.refresh(layout=True)

    def lines(self, width: int, height: int) -> list[Content]:
        """Draw what there is; nothing before the first view."""
        return self.draw(self.view, width, height)[:height] if self.view else []

    def draw(self, view: View, width: int, height: int) -> list[Content]:
        """Lines of this panel."""
        raise NotImplementedError


class TaskCard(Panel):
    """What to do now."""

    TITLE = " DO NOW "

    def draw(self, view: View, width: int, height: int) -> list[Content]:
        """Test, state, place, meter, probes, cautions."""
        if view.test is None:
            return [Content.styled(row, "bold") for row in wrapped(
                _idle(view), width, 3, view.glyphs.more)]
        card = card_of(view.machine, view.test, view.suggestion, view.coming_from)
        lines = [Content.styled(row, "bold $primary") for row in wrapped(
            card.does, width, 2, view.glyphs.more)]
        if view.change is not None:
            lines.insert(0, Content.styled(cut(_first(view.change), width, view.glyphs.more),
                                           "bold $warning"))
        rest = _labelled("Where", f"{card.place} {view.glyphs.dot} {card.time}", width, 1)
        rest += self._meter(card.meter, card.red, card.black, width)
        if view.test.words:
            rest += _labelled("Words", choices(view.test), width, 3)
        most = min(height, HIGHEST) if width >= NARROW else height
        if card.cautions:
            room = max(min(3, most - len(lines) - len(rest) - 1), 1)
            rest += _cautions(" ".join(card.cautions), width, room, f"{view.glyphs.more} w")
        state = card.state + (f" ({card.how})" if card.how else "")
        room = 2 if len(lines) + len(rest) + 2 <= most or width < NARROW else 1
        return [*lines, *_labelled("State", state, width, room), *rest]

    @staticmethod
    def _meter(meter: str, red: str, black: str, width: int) -> list[Content]:
        """Meter and range, and where the probes go; on one line where there is room."""
        label = ("Meter".ljust(LABEL), "$secondary")
        probes = Content.assemble(
            ("RED ", "bold $error"), (red, "bold"),
            *([("   BLACK ", "bold"), (black, "bold")] if black else [])) if red else Content("")
        if len(meter) + LABEL + len(probes.plain) + 3 <= width or not red:
            gap = "   " if red else ""
            return [Content.assemble(label, cut(meter, width - LABEL), gap, probes)]
        return [Content.assemble(label, cut(meter, width - LABEL)),
                Content.assemble(("Probes".ljust(LABEL), "$secondary"), probes)]


def _first(change: Change) -> str:
    """What comes before the test."""
    goal = "DEAD" if change.dead else "LIVE"
    return f"FIRST   d: make it {goal}, {len(change.steps)} steps, {minutes(change.minutes)}"


def _cautions(text: str, width: int, most: int, more: str) -> list[Content]:
    """As many lines as there is room for; the page behind w tells the rest."""
    rows = wrapped(text, width - 2, most, more)
    return [Content.styled(("  " if n else "! ") + row, "bold $warning")
            for n, row in enumerate(rows)]


def _idle(view: View) -> str:
    """What stands on the card when no test is in hand."""
    if view.thinking:
        return view.doing or "working out what to measure next ..."
    if view.state.danger:
        return "FIRST: land or secure the load, and say how: press l. Nothing is measured before."
    if view.cured:
        return "Repaired and cured. Prove each safety function before you hand it back: press h."
    if view.assessment is not None and view.assessment.finding is not None:
        return "There is a finding: press f to look at it and put it right."
    return "No test is left that tells the suspects apart. x: it works now. e: free entry."


def _labelled(label: str, text: str, width: int, most: int) -> list[Content]:
    rows = wrapped(text, width - LABEL, most)
    return [Content.assemble(((label if i == 0 else "").ljust(LABEL), "$secondary"), row)
            for i, row in enumerate(rows)]


class RunView(Panel):
    """The run of the circuit that the test looks at."""

    TITLE = " THE RUN "

    def draw(self, view: View, width: int, height: int) -> list[Content]:
        """As a column where there is room for it, otherwise as flowing text."""
        run = run_of(view.machine, view.test, view.state.entries) if view.test else ()
        if not run:
            says = "No wiring is shown for this test." if view.test else (
                "" if view.thinking else "Drawn for the test in hand: t chooses one.")
            return [Content.styled(says, "$secondary")]
        if self._roomy and height >= COLUMN:
            return as_column(run, view.glyphs, width, height)
        return as_text(run, view.glyphs, width, min(height, 3))

    @property
    def _roomy(self) -> bool:
        """A tall screen can spend a line on each stop."""
        return self.screen.has_class("-tall")


class OutcomesView(Panel):
    """What each reading would mean, before it is taken."""

    TITLE = " IF IT READS "

    def draw(self, view: View, width: int, height: int) -> list[Content]:
        """One line an outcome, the likeliest first; the one that was typed is marked."""
        if view.suggestion is None:
            return [Content("")]
        outcomes = sorted(view.suggestion.outcomes, key=lambda one: -one.probability)
        room = min(height, 8)
        wide = min(max((len(one.reading) for one in outcomes), default=8), max(width // 3, 12))
        lines = [self._line(view, one, width, wide) for one in outcomes[:room]]
        if len(outcomes) > room > 1:
            hidden = len(outcomes) - room + 1
            lines[room - 1] = Content.styled(f"  and {hidden} more, each less likely",
                                             "$secondary")
        return lines

    @staticmethod
    def _line(view: View, outcome: Outcome, width: int, wide: int) -> Content:
        hit = view.typed is not None and fits(outcome, view.typed)
        mark = view.glyphs.here if hit else " "
        head = f"{mark}{percent(outcome.probability):>5}  "
        reading = cut(outcome.reading, wide, view.glyphs.more).ljust(wide)
        says = cut(outcome_says(view.machine, outcome), width - len(head) - wide - 2,
                   view.glyphs.more)
        style = "bold $success" if hit else ""
        return Content.assemble((head, style or "$secondary"), (reading, "bold"), "  ",
                                (says, style))


class SuspectsView(Panel):
    """Who is still suspected, and how that moved."""

    TITLE = " SUSPECTS "

    def draw(self, view: View, width: int, height: int) -> list[Content]:
        """A bar, a figure, how it moved, and the words."""
        if view.assessment is None:
            return [Content.styled("thinking ...", "$secondary")]
        cells = 10 if width >= 55 else 3
        rows = [(one.probability, moved(one, view.glyphs), suspect_says(one))
                for one in view.assessment.suspects]
        room = max(min(height, 40) - 1, 1)
        lines = [self._line(view, *row, width, cells) for row in rows[:room]]
        rest = len(rows) - room
        says = NOTHING_DESCRIBED + (f"; {rest} more suspects: p" if rest > 0 else "")
        lines.append(self._line(view, view.assessment.unknown, "", says, width, cells))
        return lines

    @staticmethod
    def _line(
        view: View, share: float, move: str, says: str, width: int, cells: int,
    ) -> Content:
        head = f"{percent(share):>6}"
        room = width - cells - len(head) - 5
        up = move.startswith(view.glyphs.up)
        return Content.assemble(
            (bar(share, cells, view.glyphs), "$accent"), (head, "bold"), " ",
            (move.ljust(3), "$success" if up else "$secondary"), " ",
            cut(says, room, view.glyphs.more))


class ReadingsView(Panel):
    """Readings so far, newest first."""

    TITLE = " READINGS SO FAR "

    def draw(self, view: View, width: int, height: int) -> list[Content]:
        """Number, reading, test."""
        entries = view.state.entries
        if not entries:
            return [Content.styled("none yet", "$secondary")]
        doubted = {doubt.number for doubt in view.assessment.doubts} if view.assessment else set()
        lines = []
        for entry in reversed(entries[-height:]):
            test = named_test(view.machine, entry.test)
            mark = "?" if entry.number in doubted else " "
            head = f"{mark}{entry.number:>2}  "
            reading = reading_text(test, entry.reading)
            lines.append(Content.assemble(
                (head, "bold $warning" if mark == "?" else "$secondary"),
                (reading.ljust(12), "bold"), " ",
                cut(test.does, width - len(head) - max(len(reading), 12) - 1,
                    view.glyphs.more)))
        return lines


class Remarks(Panel):
    """A finding, doubts and notes; takes no room when there are none."""

    def draw(self, view: View, width: int, height: int) -> list[Content]:
        """The most important first."""
        found = view.assessment
        more = view.glyphs.more
        lines = [Content.styled(cut(f"! Press b: BRIDGE still in: {on_one_line(where)}", width,
                                    more), "bold $error") for where in view.state.bridges[:1]]
        if found is None:
            return lines
        if found.finding is not None and not view.cured:
            lines.append(Content.styled(
                cut(f"FINDING, press f: {found.finding.says}", width, more), "bold $success"))
        lines += [Content.styled(cut(f"? Press r: {doubt.says}", width, more),
                                 "bold $warning") for doubt in found.doubts[:1]]
        lines += [Content.styled(cut(f"i {note}", width, more), "$accent")
                  for note in found.notes[:1]]
        return lines

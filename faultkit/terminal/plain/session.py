"""What every part of the line-by-line mode works with: the job on the desk and the talk."""

from collections.abc import Callable
from dataclasses import dataclass, field

from faultkit.errors import FaultkitError
from faultkit.job.events import Event
from faultkit.job.records import Assessment
from faultkit.terminal.desk import Desk
from faultkit.terminal.plain.echo import echo_of
from faultkit.terminal.plain.shown import say_suspects
from faultkit.terminal.plain.talk import Talk


@dataclass
class Session:
    """One job, talked through."""

    desk: Desk
    talk: Talk
    minding: Callable[[], None] = lambda: None
    """Called after every event: says what has become worth a warning."""
    who: str = ""
    """Who proves and hands over, once it was said."""
    assessment: Assessment | None = field(default=None)
    """What follows from the state; None before it was worked out, or where it cannot be."""

    def tell(self, event: Event) -> bool:
        """Let something happen and say so; where it cannot be, say why and give False."""
        try:
            self.desk.tell(event)
        except FaultkitError as error:
            self.talk.tell(str(error), "! ")
            return False
        self.talk.tell(echo_of(event, self.desk), "= ")
        self.minding()
        return True

    def undo(self) -> None:
        """Take the last change back, or say why that cannot be."""
        kept = len(self.desk.events)
        try:
            says = self.desk.undo()
        except FaultkitError as error:
            self.talk.tell(str(error), "! ")
            return
        self.talk.tell(says, "= " if len(self.desk.events) > kept else "i ")

    def think(self, *, aloud: bool = True) -> None:
        """Work the state out anew and tell who is suspected."""
        self.assessment = None
        try:
            self.assessment = self.desk.assess()
        except FaultkitError as error:
            self.talk.tell(f"{error} u takes the last step back.", "! ")
            return
        if aloud:
            say_suspects(self.talk, self.assessment)

    def name(self, question: str) -> str:
        """Ask who does this; the one said before stands."""
        usual = self.who
        prompt = f"{question} (Enter: {usual})? " if usual else f"{question}? "
        while True:
            self.who = self.talk.ask(prompt, "The name that shall stand in the report.") or usual
            if self.who:
                return self.who
            self.talk.say("A name is needed.")

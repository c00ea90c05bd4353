"""The start: which machine stands still."""

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from faultkit.terminal.keys import Key, bindings
from faultkit.terminal.screens.frame import Frame
from faultkit.terminal.widgets.bars import KeyBar, TopBar
from faultkit.terminal.widgets.drawn import wrapped
from faultkit.terminal.widgets.pick import DIGITS, PickList
from faultkit.terminal.wording.cautions import DECIDES, NEVER


class StartScreen(Frame):
    """Choose a machine."""

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("enter", "take", "choose", "Choose the marked machine", bar=True),
        Key("q", "app.quit", "quit", "Leave faultkit", bar=True),
    )
    BINDINGS = bindings("start", KEYS)
    CSS_PATH = "start.tcss"
    AUTO_FOCUS = "#machines"
    HELP = (
        "Choose the machine that stands still: press its digit, or mark it with the arrows and "
        "press Enter. To open a machine that is not in the list, leave with q and start "
        "faultkit find followed by the folder of its YAML files."
    )

    def compose(self) -> ComposeResult:
        """Question, machines, caution."""
        yield TopBar()
        yield Static("Which machine stands still?", id="question", markup=False)
        yield PickList("machines")
        yield Static(Content.styled(f"! {NEVER} {DECIDES}", "bold $warning"), id="caution")
        yield KeyBar(self.KEYS)

    def on_mount(self) -> None:
        """List what can be opened."""
        self.top("faultkit", "a hoist stands still")
        self.call_after_refresh(self._fill)

    def _fill(self) -> None:
        machines = self.query_one("#machines", PickList)
        width = max(machines.size.width - 6, 30)
        for place, offer in enumerate(self.house.library.offers()):
            digit = DIGITS[place] if place < len(DIGITS) else " "
            machines.digits[digit] = offer.name
            says = "\n".join(f"   {row}" for row in wrapped(offer.says, width, 2))
            machines.add_option(Option(Content.assemble(
                (f"{digit}  {offer.title}", "bold"), "\n", (says, "$secondary")),
                id=offer.name))
        machines.digits.pop(" ", None)
        if machines.option_count:
            machines.highlighted = 0
        else:
            self.query_one("#question", Static).update(Content(
                "No machine is bundled or added. Start faultkit find PATH to open one."))

    @on(OptionList.OptionSelected, "#machines")
    def _chosen(self, event: OptionList.OptionSelected) -> None:
        self.house.to_machine(event.option_id or "")

    def action_take(self) -> None:
        """Enter outside the list."""
        self.query_one("#machines", PickList).action_select()

"""Other tests worth taking, best first."""

from textual.content import Content
from textual.widgets.option_list import Option

from faultkit.job.named import named_test
from faultkit.job.records import Suggestion
from faultkit.terminal.screens.bench.view import View
from faultkit.terminal.widgets.drawn import cut
from faultkit.terminal.widgets.pick import DIGITS, PickList
from faultkit.terminal.wording.words import test_says, test_short


class OtherTests(PickList):
    """A list to choose the next test from."""

    def __init__(self) -> None:
        super().__init__("others")
        self.border_title = " OTHER  min  bit "

    def show(self, view: View) -> None:
        """List what else is worth its minutes."""
        self.clear_options()
        self.digits = {}
        if view.assessment is None:
            return
        others = [one for one in view.assessment.next
                  if view.test is None or one.test != view.test.id][:len(DIGITS)]
        width = max(self.content_size.width - 1, 24)
        for digit, one in zip(DIGITS, others, strict=False):
            self.digits[digit] = one.test
            self.add_option(Option(self._row(view, digit, one, width), id=one.test))

    @staticmethod
    def _row(view: View, digit: str, one: Suggestion, width: int) -> Content:
        head = f"{digit} {one.minutes:4.1f} {one.gain_bits:3.1f} "
        test = named_test(view.machine, one.test)
        long = test_says(view.machine, test)
        does = long if len(long) <= width - len(head) else test_short(view.machine, test)
        return Content.assemble((head, "bold"), cut(does, width - len(head), view.glyphs.more))

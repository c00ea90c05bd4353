"""What a change would alter: suspects and the next step, before and after."""

from faultkit.job.named import named_test
from faultkit.job.records import Assessment
from faultkit.terminal.wording.finding import headline
from faultkit.terminal.wording.words import NOTHING_DESCRIBED, suspect_says
from faultkit.vocabulary.machine import Machine
from faultkit.vocabulary.says import percent

FEW = 5


def next_says(machine: Machine, found: Assessment) -> str:
    """The finding, or else the test that would come next."""
    if found.finding is not None:
        remedies = "; ".join(machine.remedies[name].says for name in found.finding.remedies[:3])
        return headline(found.finding) + (f": {remedies}" if remedies else "")
    if not found.next:
        return "no test is left that tells the suspects apart"
    return named_test(machine, found.next[0].test).does


def suspects_say(found: Assessment) -> tuple[str, ...]:
    """The likeliest suspects, one a line, and what is not described."""
    return (*(f"{percent(one.probability):>5}  {suspect_says(one)}"
              for one in found.suspects[:FEW]),
            f"{percent(found.unknown):>5}  {NOTHING_DESCRIBED}")

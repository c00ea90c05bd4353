"""A job on screens in a process of its own, as `faultkit find` does it: for breaking it off.

    python -m tests.jobs.on_screens MACHINE STORE CAUSE [JOB]

After every screen that was acted upon a line tells how many events the person has seen done.
"""

import asyncio
import sys

from textual.pilot import Pilot

from faultkit.commands.opening import open_engine
from faultkit.commands.shelf import Shelf
from faultkit.terminal.app import FaultkitApp
from faultkit.terminal.screens.bench.bench import BenchScreen
from faultkit.terminal.screens.closing.closing import ClosingScreen
from faultkit.terminal.screens.frame import Frame
from tests.terminal.hands import Hands, settled, write


class Returning(Hands):
    """Finds the way from the screen that a job is gone on with."""

    async def _act(self, pilot: "Pilot[int]", screen: Frame) -> None:
        if isinstance(screen, ClosingScreen):
            await pilot.press("1")
            await settled(pilot)
            await write(pilot, "Bob")  # who it was is asked anew after a break
        else:
            await super()._act(pilot, screen)

    async def _call(self, pilot: "Pilot[int]") -> None:
        app = pilot.app
        assert isinstance(app, FaultkitApp)
        if app.desk is not None and app.desk.state.call.who:
            await pilot.press("0")  # told before the job was broken off
        else:
            await super()._call(pilot)

    async def _measure(self, pilot: "Pilot[int]", screen: BenchScreen) -> None:
        if screen.desk.cured:
            await pilot.press("h")
        elif screen.test is None:
            await pilot.press("f")
        else:
            await super()._measure(pilot, screen)


def tell(app: FaultkitApp) -> bool:
    """Say how many events the job on the desk has; never stop it."""
    sys.stdout.write(f"{len(app.desk.events) if app.desk else 0}\n")
    sys.stdout.flush()
    return False


async def work(machine: str, store: str, cause: str, job: str | None) -> None:
    """Do the job to its end."""
    engine = open_engine(machine, lambda _: None)
    shelf = Shelf(at_once=True, store=store, learned=False)
    app = FaultkitApp(shelf, machine, resume=job)
    async with app.run_test(size=(100, 30)) as pilot:
        await Returning(engine, cause, load="hanging", stop=tell).work(pilot)
        tell(app)
    shelf.close()


if __name__ == "__main__":
    name, kept, hidden, *resumed = sys.argv[1:]
    asyncio.run(work(name, kept, hidden, resumed[0] if resumed else None))

"""Rows made by several processes, each with its own circuit.

Each worker hangs on one pipe and ends when the other end is gone, however this process ended:
no orphans. Workers start afresh (`spawn`), so that threads and screens of this process do not
matter to them; a program that asks for workers needs the usual `if __name__ == "__main__"`.
"""

import os
import signal
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from multiprocessing import get_context
from multiprocessing.connection import Connection, wait
from multiprocessing.process import BaseProcess

from faultkit.circuit.circuit import Circuit
from faultkit.prediction.rows import Row, RowMaker
from faultkit.vocabulary.diagnosis import Change, Test
from faultkit.vocabulary.machine import Machine

Task = tuple[str, tuple[Change, ...]]
"""Cause id (empty for the healthy machine), and the changes of the variant."""

PIECE = 8
"""Rows handed to a worker at a time."""
MOST = 8
"""Workers at most: further ones would wait for memory."""


def cores() -> int:
    """Return the number of processors that this process may use, at most `MOST`."""
    try:
        count = len(os.sched_getaffinity(0))
    except AttributeError:  # not every system can say
        count = os.cpu_count() or 1
    return min(count, MOST)


def make_row(maker: RowMaker, task: Task) -> Row:
    """Make one row."""
    name, changes = task
    cause = maker.machine.causes.get(name)
    return maker.make(changes, cause.expect if cause else {}, cause.symptoms if cause else {})


def make_by_workers(machine: Machine, tests: Sequence[Test], tasks: Sequence[Task],
                    processes: int, narrate: Callable[[int], None]) -> list[Row]:
    """Make a row for each task.

    Parameters
    ----------
    machine, tests
        What the rows speak of.
    tasks : sequence
        One a row.
    processes : int
        Workers to start.
    narrate : callable
        Told now and then how many rows are done; what it raises ends everything.

    Raises
    ------
    CircuitError
        If the network cannot be solved, naming devices.
    """
    context = get_context("spawn")
    pieces = [range(k, min(k + PIECE, len(tasks))) for k in range(0, len(tasks), PIECE)]
    rows: list[Row | None] = [None] * len(tasks)
    waiting = iter(pieces)
    busy: dict[Connection, range] = {}
    workers = []
    try:
        for _ in range(min(processes, len(pieces))):
            here, there = context.Pipe()
            worker = context.Process(target=_work, args=(there, machine, tuple(tests)),
                                     daemon=True)
            _start(worker)
            there.close()
            workers.append((worker, here))
            _hand_out(here, waiting, busy, tasks)
        done = 0
        while busy:
            for ready in wait(list(busy)):
                assert isinstance(ready, Connection)
                piece = busy.pop(ready)
                answer = ready.recv()
                if isinstance(answer, Exception):
                    raise answer
                for k, row in zip(piece, answer, strict=True):
                    rows[k] = row
                done += len(piece)
                _hand_out(ready, waiting, busy, tasks)
            narrate(done)
    finally:
        for worker, here in workers:
            here.close()
            worker.terminate()
            worker.join()
    return [row for row in rows if row is not None]


def _start(worker: BaseProcess) -> None:
    """Start a process with the stderr of this one.

    Screens put something without a file in the place of stderr, and a process that is to inherit
    it cannot start.
    """
    shown = sys.stderr
    sys.stderr = sys.__stderr__
    try:
        worker.start()
    finally:
        sys.stderr = shown


def _hand_out(to: Connection, waiting: Iterator[range], busy: dict[Connection, range],
              tasks: Sequence[Task]) -> None:
    piece = next(waiting, None)
    if piece is not None:
        to.send([tasks[k] for k in piece])
        busy[to] = piece


def _work(conn: Connection, machine: Machine, tests: tuple[Test, ...]) -> None:
    """Make rows until the other end of the pipe is gone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    with suppress(EOFError, OSError):
        try:
            maker = RowMaker(Circuit(machine), tests)
            while True:
                conn.send([make_row(maker, task) for task in conn.recv()])
        except EOFError:
            raise
        except Exception as exc:  # noqa: BLE001 - raised again where it can be told
            conn.send(exc)

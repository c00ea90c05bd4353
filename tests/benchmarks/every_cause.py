"""Every cause of a machine, hidden and found: how often, in how many measurements and minutes.

    python -m tests.benchmarks.every_cause [--seeds 5] [--every 1] [--wrong] [--pairs 200]

Each job has its own complaint, a supply a few percent off, readings computed by the circuit
with 2 % noise and rounded to the last digit. `--wrong` plants one wrong reading among the
first four of each job; `--pairs` hides two causes at once.
"""

import argparse
import json
import sys
from collections import Counter
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import asdict
from functools import partial
from pathlib import Path

import numpy as np

from tests.jobs.trial import Bench, Outcome, bench, double, single

HEAD = ("| jobs | right | named first | remedies named | equal to every test "
        "| measurements mean / worst | minutes mean / worst | latent |")
_on: list[Bench] = []


def _open(name: str, cache: Path) -> None:
    _on.append(bench(name, cache))


def _single(job: tuple[int, int], *, wrong: bool) -> Outcome:
    return single(_on[0], *job, wrong_reading=wrong)


def _double(job: tuple[int, int, int]) -> Outcome:
    return double(_on[0], job[:2], job[2])


def summary(outcomes: Sequence[Outcome], title: str) -> str:
    """Return one Markdown table row and the jobs that went wrong."""
    told = [o for o in outcomes if o.ending != "latent"]
    ends = Counter(o.ending for o in told)
    good = ends["right"] + ends["equal"]
    count = [o.measurements for o in told]
    minutes = [o.minutes for o in told]
    lines = [
        f"## {title}", "",
        HEAD, "|---|---|---|---|---|---|---|---|",
        (f"| {len(told)} | {good / len(told):.2%} "
         f"| {sum(o.first for o in told) / len(told):.2%} "
         f"| {np.mean([len(o.found) for o in told]):.2f} | {ends['equal']} "
         f"| {np.mean(count):.1f} / {max(count)} | {np.mean(minutes):.0f} / {max(minutes):.0f} "
         f"| {len(outcomes) - len(told)} |"), "",
    ]
    if any(len(o.causes) > 1 for o in told):
        lines.append(f"Second found after the repair of the first: "
                     f"{sum(o.second for o in told) / len(told):.2%} of all.")
    lines += [f"- {o.ending}: {' + '.join(o.causes)}, seed {o.seed}, found {list(o.found)[:3]}"
              for o in told if o.ending in ("wrong", "tired")]
    return "\n".join(lines)


def main() -> None:
    """Run the trials and print a Markdown report; JSON to a file if asked."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--machine", default="bridge-hoist")
    parser.add_argument("--seeds", type=int, default=5)
    parser.add_argument("--every", type=int, default=1, help="only every n-th cause")
    parser.add_argument("--wrong", action="store_true", help="plant one wrong reading")
    parser.add_argument("--pairs", type=int, default=0, help="random pairs instead")
    parser.add_argument("--processes", type=int, default=2)
    parser.add_argument("--json", type=Path)
    parser.add_argument("--cache", type=Path, required=True, help="folder for the table")
    chosen = parser.parse_args()
    on = bench(chosen.machine, chosen.cache)
    count = len(on.knowledge.prediction.causes)
    work: Callable[..., Outcome]
    jobs: list[tuple[int, ...]]
    if chosen.pairs:
        chance = np.random.default_rng(7)
        drawn = [sorted(chance.choice(count, 2, replace=False).tolist())
                 for _ in range(chosen.pairs)]
        jobs = [(a, b, seed) for seed, (a, b) in enumerate(drawn)]
        work, title = _double, f"{chosen.pairs} random pairs"
    else:
        jobs = [(cause, seed) for seed in range(chosen.seeds)
                for cause in range(0, count, chosen.every)]
        work, title = partial(_single, wrong=chosen.wrong), "Every cause"
        title += ", one reading wrong" if chosen.wrong else ""
    outcomes = []
    with ProcessPoolExecutor(chosen.processes, initializer=_open,
                             initargs=(chosen.machine, chosen.cache)) as pool:
        for done, outcome in enumerate(pool.map(work, jobs, chunksize=4), start=1):
            outcomes.append(outcome)
            if outcome.ending in ("wrong", "tired") or done % 100 == 0:
                sys.stderr.write(f"{done}/{len(jobs)} {outcome}\n")
    sys.stdout.write(summary(outcomes, title) + "\n")
    if chosen.json:
        chosen.json.write_text(json.dumps([asdict(o) for o in outcomes], indent=1))


if __name__ == "__main__":
    main()

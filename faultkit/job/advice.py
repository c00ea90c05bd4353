"""It works now: no fault found is an honest result, and this is what goes with it."""

from faultkit.job.permit import live, unproved
from faultkit.job.records import JobState
from faultkit.vocabulary.diagnosis import Cause, Test
from faultkit.vocabulary.machine import Machine

PROPOSED = 4
"""Tests named at most."""
ASK = ("Ask the operator, and write it down: when and where it happens, with which load, hook high "
       "or low, crane at which place, warm or cold, wet, after how long, and what brought it back.")
LEAVE = ("Change no part on suspicion: it hides the fault and breeds new ones. Leave a note at the "
         "machine that says what to watch and write down when it comes again, whom to call, and "
         "to leave everything as it stands until somebody has looked.")
RECORD = ("Where it may come back soon, leave a meter with MIN and MAX hold or a recorder, leads "
          "fixed and the panel closed.")
SLIPS = ("A brake that slipped once is not put right by holding now: do not hand the machine over "
         "as fit for use before a qualified person has found the reason.")


def nothing_found(machine: Machine, state: JobState) -> tuple[str, ...]:
    """What to say and to do before a job ends with `no fault found`, most important first."""
    said = []
    if state.call.slips:
        said.append(SLIPS)
    if state.bridges:
        said.append(f"A bridge is still in: {'; '.join(state.bridges)}. Remove it first.")
    said.append(ASK)
    tests = provoking(machine, state)
    if tests:
        said.append("Faults that come and go show when they are provoked. Not tried yet: "
                    f"{'; '.join(test.does for test in tests)}.")
    changed = [machine.remedies[r.remedy].says for r in state.repaired
               if not r.cured and r.remedy in machine.remedies]
    if changed:
        said.append(f"Say in the report that this was done without curing it: "
                    f"{'; '.join(changed)}.")
    said += [LEAVE, RECORD]
    if unproved(state, machine):
        said.append("Prove every safety function before the machine is handed over: that it works "
                    "now must be shown, not believed.")
    return tuple(said)


def provoking(machine: Machine, state: JobState) -> tuple[Test, ...]:
    """Tests not made yet that provoke or show a fault that comes and goes, best first.

    Those that fit the complaint go before, then those that speak for more of such faults in
    fewer minutes.
    """
    made = {e.test for e in (*state.earlier, *state.entries)} | set(state.skipped)
    shows = {told.symptom for told in state.told if told.shows}
    worth: dict[str, float] = {}
    for cause in machine.causes.values():
        if cause.intermittent > 0.0:
            fits = 1.0 + 10.0 * any(cause.symptoms.get(name, 0.0) > 0.5 for name in shows)
            for name in _tells(machine, cause):
                worth[name] = worth.get(name, 0.0) + fits * cause.weight
    tests = [machine.tests[name] for name in worth if name not in made]
    if state.call.dead_only:
        tests = [test for test in tests if not live(test, machine)]
    tests.sort(key=lambda test: -worth[test.id] / max(test.minutes, 0.1))
    return tuple(tests[:PROPOSED])


def _tells(machine: Machine, cause: Cause) -> list[str]:
    """Looks and wiggles that the author says something about for this cause."""
    return [name for name in cause.expect
            if name in machine.tests and machine.tests[name].words]

"""Jobs on disk: every event is kept before anyone relies on it, and none is ever changed.

    store = open_store(None)
    job = store.begin(machine, version)
    store.note(job, 1, event)             on disk when it returns
    store.read(job), store.heads(20)      what happened, and what there is

A store never stands in the way of the work: where nothing can be kept it goes on in memory, and
`store.warning` says so.
"""

from faultkit.journal.opening import open_store
from faultkit.journal.records import JobHead, Noted, TakenIn
from faultkit.journal.store import Store

__all__ = ["JobHead", "Noted", "Store", "TakenIn", "open_store"]

"""A job: events go in, a state comes out, an assessment is shown.

    knowledge  = know(prediction)
    state      = step(state, event)
    assessment = assess(state, knowledge)
    suggestion = consider(state, knowledge, test)      any test, proposed or not

What an event would change is seen by assessing the state it leads to: nothing is kept.
"""

from faultkit.job.assess import assess, consider
from faultkit.job.knowledge import Knowledge, know
from faultkit.job.step import step

__all__ = ["Knowledge", "assess", "consider", "know", "step"]

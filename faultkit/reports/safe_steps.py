"""The steps of a safe procedure in words."""

from faultkit.errors import UsageError
from faultkit.job.events import ConditionChanged
from faultkit.job.procedure import procedure
from faultkit.reports.course import Course, Happening
from faultkit.reports.words import clean


def steps_say(course: Course, one: Happening, event: ConditionChanged) -> tuple[str, ...]:
    """What was acknowledged; the ids where the procedure is described otherwise today."""
    try:
        steps = procedure(course.machine, one.before, event.dead, event.condition).steps
    except UsageError:
        steps = ()
    says = {step.id: step.says for step in steps}
    return tuple(clean(says.get(name, name)) for name in event.steps)

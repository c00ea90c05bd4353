"""A kept job in words."""

from faultkit.journal.records import JobHead
from faultkit.vocabulary.says import on_one_line

SHORT = 8
"""Signs of an id that tell jobs apart for a person."""


def job_lines(head: JobHead) -> tuple[str, str]:
    """What tells a kept job from others: the machine and where it stands; then the rest."""
    where = ", ".join(on_one_line(part) for part in (head.asset, head.site) if part.strip())
    first = f"{on_one_line(head.machine)}{': ' if where else ''}{where}"
    when = head.last.astimezone().strftime("%d.%m.%Y %H:%M")
    complaint = on_one_line(head.complaint)
    second = f"{when}, {head.events} entries, job {head.id[:SHORT]}"
    return first, f"{second}: {complaint}" if complaint else second

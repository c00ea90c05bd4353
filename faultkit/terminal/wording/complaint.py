"""The complaint in rows: groups, marks, and what was said so far."""

from faultkit.terminal.wording.explain import Page
from faultkit.vocabulary.diagnosis import Symptom
from faultkit.vocabulary.machine import Machine

SEEN = "Seen and heard"


def grouped(machine: Machine, wanted: str = "") -> list[tuple[str, list[Symptom]]]:
    """Symptoms that hold `wanted`, or else every word of it, by what one does to see them.

    In the order of the conditions; what is seen and heard at any time comes last.
    """
    texts = {s.id: f"{s.says} {s.works} {s.id}".lower() for s in machine.symptoms.values()}
    words = [" ".join(wanted.lower().lstrip("/ ").split())]
    if not any(words[0] in text for text in texts.values()):
        words = words[0].split()
    groups: dict[str, list[Symptom]] = {c.says: [] for c in machine.conditions.values()}
    for symptom in machine.symptoms.values():
        if all(word in texts[symptom.id] for word in words):
            when = machine.conditions[symptom.when].says if symptom.when else SEEN
            groups.setdefault(when, []).append(symptom)
    return [(when, symptoms) for when, symptoms in groups.items() if symptoms]


def next_word(shows: bool | None) -> bool | None:
    """What comes after a mark when it is turned: shows, works, nothing said."""
    return {None: True, True: False, False: None}[shows]


def symptom_row(symptom: Symptom, shows: bool | None, digit: str) -> str:
    """A symptom with its mark."""
    mark = {None: "[     ]", True: "[SHOWS]", False: "[works]"}[shows]
    return f"{digit} {mark} {symptom.works if shows is False else symptom.says}"


def said_so_far(machine: Machine, marks: dict[str, bool]) -> Page:
    """What was marked, as a page."""
    shows = tuple(machine.symptoms[s].says for s, yes in marks.items() if yes)
    works = tuple(machine.symptoms[s].works for s, yes in marks.items() if not yes)
    return (("Shows", shows or ("nothing yet",)), ("Works", works or ("nothing yet",)),
            ("Good to know", (
                "What still works clears as many suspects as what does not.",
                "Say only what was really tried, with the load landed.")))

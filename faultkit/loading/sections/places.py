"""Places: a tree with one root, reached from one another."""

from faultkit.loading.draft import Draft
from faultkit.loading.fields import Fields
from faultkit.vocabulary.machine import Place
from faultkit.vocabulary.origin import GENERATED

KEYS = ("says", "minutes", "beside")


def build_places(draft: Draft) -> None:
    """Build all places. A machine without any stands at one place, the panel.

    The root is the first place that has neither `beside` nor `minutes`, or else the first
    without `beside`.
    """
    rows = {name: Fields(body, f"place {name!r}", KEYS, draft.report)
            for name, _, body in draft.records("places")}
    if not rows:
        draft.places["panel"] = Place("panel", "Control panel", 0.0, None, GENERATED)
        return
    free = [name for name, fields in rows.items() if not fields.has("beside")]
    draft.root = next((name for name in free if not rows[name].has("minutes")),
                      free[0] if free else next(iter(rows)))
    if not free:
        draft.report.error(rows[draft.root].at("beside"), "place-tree",
                           "Every place is beside another one: the tree has no root.",
                           "Leave out 'beside' where the work begins, mostly at the panel.")
    for name, key, _ in draft.records("places"):
        fields = rows[name]
        beside = fields.text("beside", draft.root)
        if fields.has("beside") and beside not in rows:
            draft.known("place", beside, fields.at("beside"))
            beside = draft.root
        draft.places[name] = Place(name, fields.text("says", name),
                                   fields.quantity("minutes", "min", 0.0),
                                   None if name == draft.root else beside, key.origin)
    _no_cycle(draft, rows)


def _no_cycle(draft: Draft, rows: dict[str, Fields]) -> None:
    for name in draft.places:
        seen = [name]
        above = draft.places[name].beside
        while above is not None and above not in seen:
            seen.append(above)
            above = draft.places[above].beside
        if above == name:
            draft.report.error(rows[name].at("beside"), "place-tree",
                               f"The way to {name!r} leads in a circle: "
                               f"{' beside '.join([*seen, name])}.",
                               "Let the places lead back to the root.")

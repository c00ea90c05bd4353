"""Settings: what lies outside the circuit and is set by conditions."""

from faultkit.loading.draft import Draft
from faultkit.loading.fields import Fields, quantity_of
from faultkit.loading.tree import Mapping
from faultkit.vocabulary.machine import Setting
from faultkit.vocabulary.near_miss import did_you_mean

KEYS = ("says", "positions", "rests")


def build_settings(draft: Draft) -> None:
    """Build all settings; `rests` is the first position unless it is given."""
    report = draft.report
    for name, key, body in draft.records("settings"):
        what = f"setting {name!r}"
        fields = Fields(body, what, KEYS, report)
        node = fields.nodes.get("positions")
        values: list[float] = []
        if isinstance(node, Mapping):
            positions = [position for position, _ in node.entries]
            values = [quantity_of(value, "%", f"position {position.text!r} of the {what}", report,
                                  0.0, -1e9) for position, value in node.entries]
        else:
            positions = list(fields.texts("positions"))
            values = [float(index) for index in range(len(positions))]
        names = [position.text for position in positions]
        for index, position in enumerate(positions):
            if position.text in names[:index]:
                report.error(position.origin, "duplicate-id",
                             f"The position {position.text!r} stands twice in the {what}.",
                             "Rename or delete one.")
        if not names:
            if node is None:
                fields.missing("positions")
            continue
        rests = fields.text("rests", names[0])
        if rests not in names:
            report.error(fields.at("rests"), "unknown-position",
                         f"The {what} has no position {rests!r}.", did_you_mean(rests, names))
        draft.settings[name] = Setting(name, fields.text("says", name), tuple(names),
                                       tuple(values), rests, key.origin)

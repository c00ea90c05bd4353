"""Safety functions: what must be proved before the machine is handed back."""

from faultkit.loading.draft import Draft
from faultkit.loading.fields import Fields
from faultkit.vocabulary.machine import SafetyFunction


def build_safety(draft: Draft) -> None:
    """Build all safety functions."""
    for name, key, body in draft.records("safety"):
        fields = Fields(body, f"safety function {name!r}", ("says", "expect"), draft.report)
        draft.safety[name] = SafetyFunction(name, fields.text("says", None),
                                            fields.text("expect", None), key.origin)

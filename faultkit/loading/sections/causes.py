"""Causes: written by hand, or overriding a generated one of the same id field by field."""

from dataclasses import replace

from faultkit.loading.draft import Draft
from faultkit.loading.fields import Fields, probability_of
from faultkit.loading.sections.changes import variants_of
from faultkit.loading.sections.expected import expected_of
from faultkit.vocabulary.diagnosis import Cause, Expected
from faultkit.vocabulary.origin import COMMON_PRACTICE, Origin

KEYS = ("device", "says", "weight", "source", "remedy", "fault", "variants", "expect", "symptoms",
        "intermittent", "critical", "safety")


def build_causes(draft: Draft) -> None:
    """Build all causes; the generated ones are in the draft already."""
    for name, key, body in draft.records("causes"):
        fields = Fields(body, f"cause {name!r}", KEYS, draft.report)
        made = draft.causes.get(name)
        if made is None:
            for needed in ("says", "weight", "remedy"):
                if not fields.has(needed):
                    fields.missing(needed)
        cause = _cause(made or _plain(name, key.origin), fields, key.origin, draft)
        if fields.has("weight") and cause.weight <= 0.0:
            draft.report.error(fields.at("weight"), "too-small",
                               f"The {fields.what} has no weight.",
                               "Give it a positive weight; remove a generated cause under "
                               "'faults' of its device.")
        written = any(fields.has(word) for word in ("fault", "variants"))
        if made is None and not written and not cause.symptoms:
            _no_path(cause, fields, key.origin, draft)
        draft.causes[name] = cause


def _no_path(cause: Cause, fields: Fields, origin: Origin, draft: Draft) -> None:
    """A cause that no complaint leads to, or that shows nowhere at all."""
    if cause.expect or fields.has("expect"):
        draft.report.warn(origin, "no-symptom-path", f"No symptom leads to the {fields.what}.",
                          "Add 'symptoms' with the probability that each one shows.")
    else:
        draft.report.error(origin, "no-effect",
                           f"The {fields.what} shows in no symptom and in no reading.",
                           "Add 'fault', 'symptoms' or 'expect'.")


def _plain(name: str, origin: Origin) -> Cause:
    return Cause(name, "", "", 1.0, COMMON_PRACTICE, "", (), {}, {}, 0.0, False, False, origin)


def _cause(base: Cause, fields: Fields, origin: Origin, draft: Draft) -> Cause:
    device = fields.text("device", base.device)
    if fields.has("device") and not draft.known("device", device, fields.at("device")):
        device = base.device
    remedy = fields.text("remedy", base.remedy)
    if fields.has("remedy"):
        draft.known("remedy", remedy, fields.at("remedy"))
    safe = base.safety or (device in draft.devices and draft.devices[device].safety)
    written = fields.has("fault") or fields.has("variants")
    return replace(
        base, device=device, says=fields.text("says", base.says),
        weight=fields.quantity("weight", "1", base.weight),
        source=fields.text("source", base.source), remedy=remedy,
        variants=variants_of(fields, draft) if written else base.variants,
        expect={**base.expect, **_expect(fields, draft)},
        symptoms={**base.symptoms, **_symptoms(fields, draft)},
        intermittent=fields.share("intermittent", base.intermittent),
        critical=fields.yes("critical", default=base.critical),
        safety=fields.yes("safety", default=safe), origin=origin)


def _expect(fields: Fields, draft: Draft) -> dict[str, Expected]:
    found = {}
    for key, node in fields.pairs("expect"):
        if draft.known("test", key.text, key.origin):
            test = draft.tests[key.text]
            reading = expected_of(node, test.meter, test.words, draft)
            if reading is not None:
                found[key.text] = reading
    return found


def _symptoms(fields: Fields, draft: Draft) -> dict[str, float]:
    return {key.text: probability_of(node, f"probability of {key.text!r}", draft.report, 0.0)
            for key, node in fields.pairs("symptoms")
            if draft.known("symptom", key.text, key.origin)}

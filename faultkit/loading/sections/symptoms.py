"""Symptoms: what an operator sees or hears, in a condition or written by hand."""

from faultkit.loading.draft import Draft
from faultkit.loading.fields import Fields, texts_of
from faultkit.vocabulary.diagnosis import Symptom
from faultkit.vocabulary.near_miss import did_you_mean

KEYS = ("says", "works", "when", "sees")


def build_symptoms(draft: Draft) -> None:
    """Build all symptoms. With `when` a symptom is computed and needs `sees`."""
    for name, key, body in draft.records("symptoms"):
        fields = Fields(body, f"symptom {name!r}", KEYS, draft.report)
        says = fields.text("says", None)
        when = fields.text("when") or None
        if when is not None:
            draft.known("condition", when, fields.at("when"))
        if fields.has("when") != fields.has("sees"):
            fields.missing("when" if fields.has("sees") else "sees")
        draft.symptoms[name] = Symptom(
            name, says, fields.text("works", f"Not so: {says}"), when, _sees(fields, draft),
            key.origin)


def _sees(fields: Fields, draft: Draft) -> dict[str, tuple[str, ...]]:
    found = {}
    for device, node in fields.pairs("sees"):
        words = texts_of(node, f"words for {device.text}", draft.report)
        if not draft.known("device", device.text, device.origin):
            continue
        shows = draft.words_of(device.text)
        for word in words:
            if word.text not in shows:
                draft.report.error(word.origin, "unknown-word",
                                   f"{device.text} never shows {word.text!r}.",
                                   did_you_mean(word.text, shows))
        found[device.text] = tuple(word.text for word in words)
    return found

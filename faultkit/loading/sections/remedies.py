"""Remedies: written by hand, or overriding a generated one of the same id field by field."""

from dataclasses import replace

from faultkit.loading.draft import Draft
from faultkit.loading.fields import Fields
from faultkit.vocabulary.diagnosis import Remedy
from faultkit.vocabulary.origin import Origin

KEYS = ("says", "place", "minutes", "proof", "dead", "part", "tools", "cautions")
MINUTES, PROOF = 20.0, 3.0
"""Defaults; common practice, no source."""


def build_remedies(draft: Draft) -> None:
    """Build all remedies; the generated ones are in the draft already."""
    for name, key, body in draft.records("remedies"):
        fields = Fields(body, f"remedy {name!r}", KEYS, draft.report)
        made = draft.remedies.get(name)
        if made is None and not fields.has("says"):
            fields.missing("says")
        base = made or _plain(name, draft.root, key.origin)
        place = fields.text("place", base.place)
        if fields.has("place") and not draft.known("place", place, fields.at("place")):
            place = base.place
        draft.remedies[name] = replace(
            base, says=fields.text("says", base.says), place=place,
            minutes=fields.quantity("minutes", "min", base.minutes),
            proof=fields.quantity("proof", "min", base.proof),
            dead=fields.yes("dead", default=base.dead), part=fields.text("part", base.part),
            tools=fields.text("tools", base.tools),
            cautions=tuple(text.text for text in fields.texts("cautions")) or base.cautions,
            origin=key.origin)


def _plain(name: str, place: str, origin: Origin) -> Remedy:
    return Remedy(name, "", place, MINUTES, PROOF, True, "", "", (), origin)


def check_used(draft: Draft) -> None:
    """Warn about remedies that no cause names."""
    used = {cause.remedy for cause in draft.causes.values()}
    for name, key, _ in draft.records("remedies"):
        if name not in used:
            draft.report.warn(key.origin, "unused-remedy", f"No cause is cured by {name!r}.",
                              "Name it in a cause, or delete it.")

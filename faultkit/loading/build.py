"""From the merged sections to the frozen machine, section after section."""

from faultkit.loading.draft import Draft
from faultkit.loading.fields import Fields
from faultkit.loading.generated import generate
from faultkit.loading.merge import HEADER
from faultkit.loading.sections.causes import build_causes
from faultkit.loading.sections.conditions import build_conditions
from faultkit.loading.sections.contacts import check_acts
from faultkit.loading.sections.devices import build_devices, check_attributes, check_faults
from faultkit.loading.sections.places import build_places
from faultkit.loading.sections.probes import build_probes
from faultkit.loading.sections.remedies import build_remedies, check_used
from faultkit.loading.sections.safety import build_safety
from faultkit.loading.sections.settings import build_settings
from faultkit.loading.sections.symptoms import build_symptoms
from faultkit.loading.sections.tests import build_tests
from faultkit.loading.sections.wires import build_wires, check_cables
from faultkit.loading.tree import Mapping
from faultkit.vocabulary.machine import Machine

UNKNOWN = 0.03
"""Prior of a fault that is not described; common practice, no source."""

ORDER = (build_places, build_settings, build_devices, build_wires, check_attributes, check_acts,
         check_cables, check_faults, build_conditions, build_symptoms, build_tests,
         build_probes, generate, build_remedies, build_causes, build_safety, check_used)
"""Each step needs only what the steps before it have built."""


def build(draft: Draft, header: Mapping, name: str, digest: str) -> Machine:
    """Machine of a draft; what is wrong with it goes into the draft's report."""
    fields = Fields(header, "machine", HEADER, draft.report)
    for step in ORDER:
        step(draft)
    unknown = fields.share("unknown", UNKNOWN)
    if unknown >= 1.0:
        draft.report.error(fields.at("unknown"), "probability", "A machine whose faults are all "
                           "unknown cannot be searched.", "Write a share such as 3 %.")
    for section, records in (("cause", draft.causes), ("symptom", draft.symptoms),
                             ("test", draft.tests)):
        if not records:
            draft.report.warn(header.origin, "nothing-to-find", f"The machine has no {section}.",
                              f"Add a section '{section}s:'.")
    return Machine(
        id=name, title=fields.text("machine"), says=fields.text("says"),
        version=fields.text("version"), supply=fields.text("supply"), places=draft.places,
        settings=draft.settings, conditions=draft.conditions, devices=draft.devices,
        wires=draft.wires, symptoms=draft.symptoms, tests=draft.tests, causes=draft.causes,
        remedies=draft.remedies, safety=draft.safety,
        cautions=tuple(caution.text for caution in fields.texts("cautions")),
        unknown=unknown, origin=fields.at("machine"), digest=digest)

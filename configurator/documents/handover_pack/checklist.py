"""Handover checklist and signatures."""

from __future__ import annotations

from reportlab.platypus import Flowable

from configurator.build_spec.spec import Spec
from configurator.documents.handover_pack.pack_issue import PackIssue
from configurator.documents.headings import subheading
from configurator.documents.paragraphs import words
from configurator.documents.tables import headed_table, room_to_write
from configurator.documents.text_blocks import text_blocks

_BOX = "□"

_ITEMS = (
    "This pack, its emergency sheet and the keys are handed over.",
    "A copy of the emergency sheet is behind the driver's visor.",
    "The owner has read Safety first.",
    "The owner has driven and charged the vehicle with the workshop.",
    "The owner knows what not to touch, and whom to call.",
    "Tyre pressures are set; loads and limits are explained.",
    "Every test certificate is filled in and signed.",
    "Differences between ordered and built are written down and accepted.",
)


DRAFT = "For the day of handover. Nothing is ticked in a draft."
ISSUED = "For the day of handover: tick each line together, initial it, and sign below."


def checklist_blocks(spec: Spec, issue: PackIssue | None = None) -> list[Flowable]:
    """Print things to tick, the workshop's texts, and lines for signatures."""
    ticks = [(_BOX, item, "") for item in _ITEMS]
    signers = [*(role.label for role in spec.workshop.roles), "Owner"]
    rows = [(signer, room_to_write(24), "", "") for signer in signers]
    return [
        words(DRAFT if issue is None else ISSUED),
        headed_table(("", "Done", "Initials"), ticks, (0.06, 0.76, 0.18)),
        *text_blocks(spec, "handover"),
        subheading("Signatures"),
        headed_table(("Role", "Name", "Signature", "Date"), rows, (0.22, 0.3, 0.3, 0.18)),
    ]

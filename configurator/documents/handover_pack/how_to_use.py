"""How to use the pack, and what its signal words mean."""

from __future__ import annotations

from reportlab.platypus import Flowable

from configurator.build_spec.spec import Spec
from configurator.documents.headings import subheading
from configurator.documents.paragraphs import bullets, words
from configurator.documents.safety_panel import SIGNAL_MEANINGS, signal_word_panel
from configurator.documents.text_blocks import text_blocks

_STEPS = (
    "Read Safety first before you drive or charge.",
    "Put the emergency sheet behind the driver's visor.",
    "Keep this pack in the vehicle.",
    "Have service and repairs written into it.",
)


def how_to_use_blocks(spec: Spec) -> list[Flowable]:
    """Tell for whom the pack is, the first steps, the signal words, then the workshop's texts."""
    return [
        words(
            "This pack is for the owner, for everybody who drives the vehicle, and for those who "
            "service or rescue it. It tells only of what is fitted to this vehicle."
        ),
        *bullets(_STEPS, numbered=True),
        subheading("Signal words"),
        words("A safety panel names the hazard, what can happen, and how to avoid it."),
        *(signal_word_panel(signal) for signal in SIGNAL_MEANINGS),
        *text_blocks(spec, "how-to-use"),
    ]

"""Warranty and end of life."""

from __future__ import annotations

from reportlab.platypus import Flowable

from configurator.build_spec.spec import Spec
from configurator.catalog.models.component import Pack
from configurator.documents.headings import subheading
from configurator.documents.paragraphs import bullets, words
from configurator.documents.text_blocks import text_blocks


def warranty_blocks(spec: Spec) -> list[Flowable]:
    """Print terms, the workshop's texts, and what becomes of the battery."""
    terms = spec.workshop.terms_on(spec.build.priced_on)
    return [
        words("Your rights under the law stand beside anything said here."),
        *([subheading("Terms of the build"), *bullets(terms.sentences)] if terms else []),
        *text_blocks(spec, "warranty"),
        subheading("End of life"),
        *_battery_note(spec),
        *text_blocks(spec, "end-of-life"),
    ]


def _battery_note(spec: Spec) -> list[Flowable]:
    pack = spec.component("pack")
    if not isinstance(pack, Pack):
        return [words("Ask the workshop before you part with the vehicle.")]
    return [
        words(
            f"The drive battery ({pack.chemistry}, {pack.modules_are} modules) must not go to "
            "scrap with the vehicle. Have it taken out by trained persons and give it back to the "
            "workshop or to a licensed collector."
        )
    ]

"""Revision history, and how to prove which spec the pack was made from."""

from __future__ import annotations

from reportlab.platypus import Flowable

from configurator.build_spec.spec import Spec
from configurator.documents.figures import day
from configurator.documents.headings import subheading
from configurator.documents.paragraphs import words
from configurator.documents.tables import headed_table, pairs_table


def revision_blocks(spec: Spec) -> list[Flowable]:
    """List the issues of this pack, then hashes and versions."""
    issues = [("Draft", f"priced on {day(spec.build.priced_on)}", "made from the spec below", "")]
    return [
        headed_table(("Issue", "Of", "What changed", "Signed by"), issues, (1, 2, 3, 2)),
        subheading("Machine-readable spec"),
        words(
            "The file spec.json is embedded in this document. It holds every choice, figure and "
            "source from which the pack was made; its SHA-256 is below."
        ),
        pairs_table(
            [
                ("SHA-256 of spec.json", spec.sha256()),
                ("SHA-256 of the catalog", spec.catalog_sha256),
                ("Version of the tool", spec.tool_version),
                ("Version of the format", str(spec.schema_version)),
            ]
        ),
    ]

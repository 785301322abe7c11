"""Revision history, and how to prove which spec the pack was made from."""

from __future__ import annotations

from collections.abc import Iterator

from reportlab.platypus import Flowable

from configurator.build_spec.spec import Spec
from configurator.documents.figures import day
from configurator.documents.handover_pack.pack_issue import EarlierIssue, PackIssue
from configurator.documents.headings import subheading
from configurator.documents.paragraphs import bullets, words
from configurator.documents.tables import headed_table, pairs_table


def revision_blocks(spec: Spec, issue: PackIssue | None = None) -> list[Flowable]:
    """List the issues of this pack, then hashes and versions."""
    return [
        headed_table(
            ("Issue", "Of", "What changed", "Issued by"),
            _issues(spec, issue),
            (0.12, 0.16, 0.54, 0.18),
        ),
        *_signatures(issue),
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


def _issues(spec: Spec, issue: PackIssue | None) -> list[tuple[str, str, str, str]]:
    if issue is None:
        return [("Draft", f"priced on {day(spec.build.priced_on)}", "made from the spec below", "")]
    this = EarlierIssue(issue.revision, issue.issued_on, issue.changes, issue.issued_by)
    return [row for one in (*issue.earlier, this) for row in _revision(one)]


def _revision(one: EarlierIssue) -> Iterator[tuple[str, str, str, str]]:
    first, *others = one.changes or ("First issue.",)
    yield f"Revision {one.revision}", day(one.issued_on), first, one.issued_by
    for change in others:
        yield "", "", change, ""


def _signatures(issue: PackIssue | None) -> list[Flowable]:
    if issue is None:
        return []
    found: list[Flowable] = []
    if issue.signed_by:
        about = f"For spec {issue.letter}; the workshop's own check, no approval by an authority."
        found = [
            subheading("Signed within the workshop"),
            words(about),
            *bullets(issue.signed_by),
        ]
    if issue.answered:
        found += [subheading("Handed over although a check warns"), *bullets(issue.answered)]
    return found

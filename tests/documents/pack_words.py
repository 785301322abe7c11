"""What a handover pack says, each pack made and read once."""

from __future__ import annotations

from configurator.build_spec.spec import Spec
from configurator.documents.handover_pack.pack import handover_pack_pdf
from configurator.documents.handover_pack.pack_issue import PackIssue
from tests.documents.read_pdf import flat_text, read_pages

_READ: dict[tuple[str, str | None], str] = {}


def words_of_pack(spec: Spec, issue: PackIssue | None = None) -> str:
    """Give all words of the pack of a spec; its hash tells one spec from another."""
    key = (spec.sha256(), None if issue is None else repr(issue))
    if key not in _READ:
        _READ[key] = flat_text(read_pages(handover_pack_pdf(spec, issue)))
    return _READ[key]

"""A change of what was promised or warned of changes the section that a signature covers."""

from __future__ import annotations

import pytest

from configurator.build_life.sections import FIELDS, changed_sections, section_hashes
from configurator.build_spec.spec import Spec
from tests.documents.sample_spec import sample_spec

# Source: common practice, no source: what a price leaves out is part of the price, and the number
# to call in an emergency is part of what the owner is told.
PROMISED = [
    ("exclusions", ("Nothing but the drive.",), ("price",)),
    ("terms", (), ()),  # a quotation keeps those it was given with
    ("emergency_contact", "Ring the bell at the gate.", ("texts",)),
    ("strapline", "Another line of welcome.", ()),
]


@pytest.mark.parametrize(("field", "words", "changed"), PROMISED)
def test_words_of_the_workshop_change_the_section_they_are_read_with(
    field: str, words: object, changed: tuple[str, ...]
) -> None:
    spec = sample_spec()
    workshop = spec.workshop.model_copy(update={field: words})
    other = spec.model_copy(update={"workshop": workshop})
    assert changed == changed_sections(section_hashes(spec), section_hashes(other))


def test_every_field_of_a_spec_belongs_to_a_section_or_is_told_why_not() -> None:
    signed = {name.split(".")[0] for names in FIELDS.values() for name in names}
    # The schema, catalog and tool name what made the spec; facts repeat figures of the sections.
    # What nobody looked at is what the survey does not tell.
    made_by = {"schema_version", "catalog_sha256", "tool_version", "facts", "not_surveyed"}
    assert set(Spec.model_fields) == signed | made_by

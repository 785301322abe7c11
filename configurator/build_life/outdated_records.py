"""Records that do not count any more, because another part is fitted since they were made."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

from configurator.build_life.entries import AsBuiltRecorded, SpecIssued
from configurator.build_life.life import Life
from configurator.build_life.required_records import RequiredRecord
from configurator.build_spec.spec import Spec
from configurator.catalog.models.as_built import MARKS_OF
from configurator.catalog.models.component import Slot


def outdated_records(
    life: Life,
    required: tuple[RequiredRecord, ...],
    spec_of_letter: Callable[[str], Spec],
) -> frozenset[tuple[str, Slot | None]]:
    """Find the records made under an earlier letter, of parts that are no more the ones fitted.

    Parameters
    ----------
    life : Life
        Of the build.
    required : tuple of RequiredRecord
        What it needs now.
    spec_of_letter : callable
        Reads an issued spec by its letter.

    Returns
    -------
    frozenset
        (record, slot); a weighing is outdated once a later letter changes weights, the marks of a
        part once the survey says something else of it.
    """
    issued = life.issued
    if issued is None:
        return frozenset()
    fitted = cache(lambda letter: _fitted(spec_of_letter(letter)))
    surveyed = cache(lambda letter: _surveyed(spec_of_letter(letter)))
    by_key = {record.key: record for record in required}
    found = set()
    for made in life.records:
        record, then = by_key.get((made.record, made.slot)), _issued_when(life, made)
        if record is None or then is None or then.letter == issued.letter:
            continue
        weights = (then.section_sha256.get("weights"), issued.section_sha256.get("weights"))
        is_other = any(
            fitted(then.letter).get(slot) != fitted(issued.letter).get(slot)
            for slot in record.slots
        )
        was, now = surveyed(then.letter), surveyed(issued.letter)
        is_other |= was.get(made.record) != now.get(made.record)
        if is_other or (record.is_weighing and weights[0] != weights[1]):
            found.add(record.key)
    return frozenset(found)


def _fitted(spec: Spec) -> dict[str, str]:
    return {str(fitted.slot): fitted.component.id for fitted in spec.fitted}


def _surveyed(spec: Spec) -> dict[str, tuple[str, str]]:
    return {f"{MARKS_OF}{part.part_id}": (part.verdict, part.origin) for part in spec.survey}


def _issued_when(life: Life, made: AsBuiltRecorded) -> SpecIssued | None:
    """Find the letter that counted when a record was made."""
    last = None
    for entry in life.entries:
        if entry.body is made:
            return last
        if isinstance(entry.body, SpecIssued):
            last = entry.body
    return last

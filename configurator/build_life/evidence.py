"""What was read and measured of what a choice fits, as evidence that it was built."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence

from configurator.build_life.required_records import SERIAL_NUMBER
from configurator.build_life.tolerances import RecordVerdict
from configurator.build_spec.spec import Spec


def evidence_of_choices(
    spec: Spec, fits: Mapping[str, Collection[str]], verdicts: Sequence[RecordVerdict]
) -> dict[str, str]:
    """Tell what is on record of the parts of each choice; a choice without any is left out.

    Parameters
    ----------
    spec : Spec
        With the serial numbers that were read.
    fits : mapping
        Group → slots that its chosen option fits.
    verdicts : sequence of RecordVerdict
        How each record stands; those count that are there, of what is fitted now.

    Returns
    -------
    dict
        Group → serial numbers, and which records tested its parts.
    """
    told = {
        choice.group_id: "; ".join(
            _of_choice(spec, choice.group_id, fits.get(choice.group_id, ()), verdicts)
        )
        for choice in spec.choices
    }
    return {group: words for group, words in told.items() if words}


def _of_choice(
    spec: Spec, group: str, slots: Collection[str], verdicts: Sequence[RecordVerdict]
) -> Iterator[str]:
    for fitted in spec.fitted:
        if fitted.slot in slots and fitted.serial_number:
            yield fitted.serial_number
    for verdict in verdicts:
        record = verdict.record
        tests_it = group in record.groups or not set(slots).isdisjoint(record.slots)
        if tests_it and verdict.counts and record.id != SERIAL_NUMBER:
            yield record.label

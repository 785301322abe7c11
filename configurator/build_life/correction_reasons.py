"""Why records were altered after the handover, with every value that stood between."""

from __future__ import annotations

from collections.abc import Sequence

from configurator.build_life.entries import AsBuiltRecorded
from configurator.build_life.life import Life
from configurator.build_life.pack_changes import Reasons
from configurator.build_life.tolerances import RecordVerdict, record_verdicts
from configurator.build_spec.days import day_in_words
from configurator.build_spec.spec import Spec
from configurator.catalog.models.component import Slot

LONGEST = 4000


def correction_reasons(life: Life, verdicts: Sequence[RecordVerdict], spec: Spec) -> Reasons:
    """Say of each record why it was corrected; what was measured in between is told as well.

    Parameters
    ----------
    life : Life
        Of the build.
    verdicts : sequence of RecordVerdict
        How each record stands that the vehicle needs.
    spec : Spec
        The issued spec, whose computed values are the limits.

    Returns
    -------
    mapping
        (record, slot) → the reasons in their order; the last one is of the record that counts.
    """
    made: dict[tuple[str, Slot | None], list[AsBuiltRecorded]] = {}
    for entry in life.corrections:
        if isinstance(entry.body, AsBuiltRecorded):
            made.setdefault((entry.body.record, entry.body.slot), []).append(entry.body)
    records = {verdict.record.key: verdict for verdict in verdicts}
    return {
        key: _shortened(
            "; then: ".join(
                [*(_between(body, records.get(key), spec) for body in bodies[:-1]), bodies[-1].note]
            )
        )
        for key, bodies in made.items()
    }


def _shortened(told: str) -> str:
    """Leave out the middle of a tale that no page would hold."""
    if len(told) <= LONGEST:
        return told
    half = LONGEST // 2
    return f"{told[:half]} … {told[-half:]}"


def _between(made: AsBuiltRecorded, verdict: RecordVerdict | None, spec: Spec) -> str:
    """Tell a value that stood for a while, and that it did not hold."""
    note = made.note.rstrip(".")
    if verdict is None:
        return note
    (held,) = record_verdicts((verdict.record,), (made,), spec)
    said = ", ".join(f"{value.value.label}: {value.said}" for value in held.values if value.said)
    beyond = ", out of tolerance" if held.in_tolerance is False else ""
    return f"{said} on {day_in_words(made.measured_on)}{beyond}: {note}"

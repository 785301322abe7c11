"""Write down what was measured on the finished vehicle, and compute its spec from that."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from functools import cache, partial
from typing import NoReturn

from configurator.build_life.entries import AsBuiltRecorded, Body, SpecIssued
from configurator.build_life.life import Entry, Life
from configurator.build_life.measured_values import as_built_of
from configurator.build_life.measuring_days import measuring_day_faults
from configurator.build_life.outdated_records import outdated_records
from configurator.build_life.people import Person
from configurator.build_life.required_records import (
    SERIAL_NUMBER,
    RequiredRecord,
    required_records,
)
from configurator.build_life.tolerances import RecordVerdict, record_verdicts
from configurator.build_spec.pipeline import specify
from configurator.build_spec.spec import Spec
from configurator.build_spec.survey import survey_template
from configurator.catalog.models.component import Slot
from configurator.catalog.models.workshop import RoleId
from configurator.documents.handover_pack.pack import handover_pack_pdf
from configurator.errors import Fault, LifeError
from configurator.record.book import read_life, write_entries
from configurator.workflow.as_built_faults import (
    TypedRecord,
    correction_faults,
    record_of,
    recorded,
    same_number_faults,
)
from configurator.workflow.issued_catalogs import catalog_of
from configurator.workflow.issuing import issued_spec
from configurator.workflow.premises import Premises
from configurator.workflow.rights import refuse_other_roles

RECORDING_ROLES: tuple[RoleId, ...] = ("engineer", "second-person", "manager")
"""Who may write down what was measured; the entry names who measured it."""

RecordKey = tuple[str, Slot | None]
"""The record and, for a serial number, whose it is."""


@dataclass(frozen=True)
class AsBuiltState:
    """What the issued spec needs on record, and how each record stands."""

    spec: Spec
    """As issued."""
    verdicts: tuple[RecordVerdict, ...]

    @property
    def unsettled(self) -> tuple[RecordVerdict, ...]:
        """The records that stand in the way of a handover."""
        return tuple(verdict for verdict in self.verdicts if not verdict.is_settled)


def record_measurement(
    premises: Premises,
    reference: str,
    record_id: str,
    *,
    values: Mapping[str, float | str],
    slot: Slot | None = None,
    instrument: str = "",
    calibrated_until: date | None = None,
    measured_on: date,
    measured_by: str = "",
    note: str = "",
    by: Person,
    now: datetime,
) -> Entry:
    """Write down a measurement, test or serial number; a later one replaces it.

    A value out of tolerance is written down as it is: it stands in the way of the handover, and
    nobody can say later that it was not known. After the handover it is a correction: it says why,
    and the next revision of the pack tells the owner of it.

    Parameters
    ----------
    premises : Premises
        Where the record is.
    reference : str
        Of the build.
    record_id : str
        Which of the records that the vehicle needs.
    values : mapping
        Value id → number, or the words of it.
    slot : Slot, optional
        Whose serial number it is.
    instrument, calibrated_until : str, date
        What it was measured with, and until when its calibration counts.
    measured_on : date
        Not before the first issued spec, not in the future.
    measured_by : str
        Who measured: a person of the workshop or of a test station; the writer when empty.
    note : str
        Anything to add, after the handover why it is corrected; no names of customers.
    by : Person
        Who writes it down.
    now : datetime
        Aware, UTC.

    Raises
    ------
    LifeError
        With every fault of it at once; nothing was written.
    """
    typed = TypedRecord(
        values=dict(values),
        instrument=instrument,
        calibrated_until=calibrated_until,
        measured_on=measured_on,
        measured_by=measured_by or by.name,
        note=note,
    )
    (entry,) = _write(premises, reference, {(record_id, slot): typed}, by=by, now=now)
    return entry


def record_serial_numbers(
    premises: Premises,
    reference: str,
    numbers: Mapping[Slot, str],
    *,
    read_on: date,
    note: str = "",
    by: Person,
    now: datetime,
) -> tuple[Entry, ...]:
    """Write down several serial numbers at once, all or none; after the handover the note says why.

    Raises
    ------
    LifeError
        With every fault of each of them.
    """
    if not numbers:
        return ()
    typed: dict[RecordKey, TypedRecord] = {
        (SERIAL_NUMBER, slot): TypedRecord(
            {SERIAL_NUMBER: number}, read_on, measured_by=by.name, note=note
        )
        for slot, number in numbers.items()
    }
    return _write(premises, reference, typed, by=by, now=now)


def how_built_stands(premises: Premises, reference: str) -> AsBuiltState:
    """Tell what the issued spec needs on record, and how each record stands.

    Raises
    ------
    LifeError
        If no spec is issued yet.
    """
    spec, life = issued_spec(premises, reference), read_life(premises.record, reference)
    required = _required(premises, life, spec)
    letters = cache(partial(issued_spec, premises, reference))
    outdated = outdated_records(life, required, letters)
    return AsBuiltState(spec, record_verdicts(required, life.records, spec, outdated))


def measured_spec(premises: Premises, reference: str) -> Spec:
    """Compute the issued spec's build with what was measured and read on the vehicle.

    It is computed with the catalog that the spec was issued with; range and loads follow from
    the weighed axles and the measured battery. While nothing is on record it is the issued spec.

    Raises
    ------
    LifeError
        If no spec is issued yet.
    RecordError
        If the spec or its catalog is lost or was altered.
    """
    return spec_as_measured(premises, how_built_stands(premises, reference))


def spec_as_measured(premises: Premises, state: AsBuiltState) -> Spec:
    """Compute what `measured_spec` does, from how the records were found to stand.

    Raises
    ------
    RecordError
        If the catalog of the issued spec is lost or was altered.
    """
    built = as_built_of(state.verdicts, state.spec)
    if built is None:
        return state.spec
    build = state.spec.build.model_copy(update={"as_built": built})
    return specify(catalog_of(premises, state.spec.catalog_sha256), build, premises.engines)


def measured_draft_pack(premises: Premises, reference: str) -> bytes:
    """Write the handover pack of the vehicle as it is on record now; each page says draft.

    Raises
    ------
    LifeError
        If no spec is issued yet.
    DocumentError
        If choices are open, or it cannot be made.
    """
    return handover_pack_pdf(measured_spec(premises, reference))


def _write(
    premises: Premises,
    reference: str,
    typed: Mapping[RecordKey, TypedRecord],
    *,
    by: Person,
    now: datetime,
) -> tuple[Entry, ...]:
    refuse_other_roles(by, RECORDING_ROLES, "write down what was measured")
    seen = read_life(premises.record, reference)
    issued = seen.issued
    spec = None if issued is None else issued_spec(premises, reference, issued.letter)
    required = () if spec is None else _required(premises, seen, spec)

    def bodies(life: Life) -> Sequence[Body]:
        if life.issued != seen.issued:
            _refuse_other_spec(life.issued, reference)
        return _bodies(life, required, typed, now)

    return tuple(write_entries(premises.record, reference, bodies, by=by, now=now))


def judged_by(premises: Premises, life: Life) -> str:
    """Name the catalog whose list of records the vehicle is judged by, by its hash."""
    last = life.pack
    if life.handed_over is None or last is None or last.catalog_sha256 is None:
        return premises.catalog.sha256
    return last.catalog_sha256


def _required(premises: Premises, life: Life, spec: Spec) -> tuple[RequiredRecord, ...]:
    """List what the vehicle needs; once it is handed over, by the list it was judged by."""
    templates = catalog_of(premises, judged_by(premises, life)).as_built
    survey = survey_template(catalog_of(premises, spec.catalog_sha256), spec.vehicle)
    return required_records(spec, templates, survey.parts)


def _refuse_other_spec(issued: SpecIssued | None, reference: str) -> NoReturn:
    letter = issued.letter if issued else ""
    what = f"spec {letter} was issued a moment before, and may need other records"
    raise LifeError([Fault("P099", reference, what, "Look at what it needs, then enter again.")])


def _bodies(
    life: Life,
    required: tuple[RequiredRecord, ...],
    typed: Mapping[RecordKey, TypedRecord],
    now: datetime,
) -> Sequence[AsBuiltRecorded]:
    faults: list[Fault] = []
    found: list[AsBuiltRecorded] = []
    for (record_id, slot), entered in typed.items():
        faults += measuring_day_faults(life, record_id, entered.measured_on, now.date())
        if life.issued is None:
            continue
        record = record_of(required, record_id, slot)
        if isinstance(record, Fault):
            faults.append(record)
            continue
        body, wrong = recorded(record, entered)
        faults += [*wrong, *correction_faults(life, record, entered)]
        if body is not None:
            found.append(body)
    faults += same_number_faults(life, required, found)
    if faults:
        raise LifeError(list(dict.fromkeys(faults)))
    return found

"""The survey of the donor: what is known of it, and the verdict on each of its parts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from configurator.build_spec.findings import unlikely_donor
from configurator.build_spec.sentences import listed
from configurator.build_spec.spec import Finding
from configurator.build_spec.survey import survey_template
from configurator.build_spec.survey_result import SurveyResult
from configurator.build_spec.survey_section import survey_results, usual_results
from configurator.catalog.did_you_mean import did_you_mean
from configurator.catalog.models.build import BuildInput, SurveyLine, Verdict
from configurator.catalog.models.workshop import SurveyPart
from configurator.errors import ChoiceError, Fault
from configurator.workflow.builds import Draft, read_draft
from configurator.workflow.draft_saving import save_steps, take_step
from configurator.workflow.draft_steps import field_steps
from configurator.workflow.offered import check_vehicle
from configurator.workflow.premises import Premises
from configurator.workflow.survey_faults import read_donors, read_line


@dataclass(frozen=True)
class PartState:
    """A part that the survey looks at, and what was found."""

    part: SurveyPart
    usual: Mapping[Verdict, SurveyResult]
    """What each verdict usually comes to, with VAT."""
    line: SurveyLine | None
    """As typed; None while nobody has looked."""
    result: SurveyResult | None
    """What the line comes to, with VAT."""


@dataclass(frozen=True)
class SurveyState:
    """The survey of a build, in the order of the workshop's list."""

    parts: tuple[PartState, ...]
    lost: tuple[SurveyLine, ...] = ()
    """Of parts that the workshop's list has no more; nothing is computed until they are out."""
    unlikely: tuple[Finding, ...] = ()
    """An axle of the donor is far from what is usual."""

    @property
    def not_looked_at(self) -> tuple[PartState, ...]:
        """The parts without a verdict."""
        return tuple(state for state in self.parts if state.line is None)

    @property
    def amount_gbp(self) -> Decimal:
        """What work on the parts comes to [GBP], with VAT; a part that is kept may need some."""
        return sum((r.amount_gbp for s in self.parts if (r := s.result)), Decimal("0.00"))

    @property
    def provisional_gbp(self) -> Decimal:
        """The provisional sums together [GBP], with VAT."""
        return sum((r.provisional_gbp for s in self.parts if (r := s.result)), Decimal("0.00"))


def survey_of(premises: Premises, draft: Draft) -> SurveyState:
    """Tell of each part of the vehicle what was found, and what each verdict usually comes to.

    Raises
    ------
    ChoiceError
        If the vehicle is not in the catalog any more.
    """
    check_vehicle(premises.catalog, draft.build.vehicle)
    parts = _parts(premises, draft.build)
    lines = {line.part: line for line in draft.build.survey}
    known = tuple(lines[part.id] for part in parts if part.id in lines)
    compiled = premises.engines.compiled(
        premises.catalog, draft.build.model_copy(update={"survey": known})
    )
    results = {result.part_id: result for result in survey_results(compiled)}
    return SurveyState(
        tuple(
            PartState(
                part, usual_results(part, compiled.basis), lines.get(part.id), results.get(part.id)
            )
            for part in parts
        ),
        lost=lost_lines(premises, draft),
        unlikely=tuple(unlikely_donor(compiled, draft.build)),
    )


def lost_lines(premises: Premises, draft: Draft) -> tuple[SurveyLine, ...]:
    """List the verdicts on parts that the list has no more; nothing can be computed with them."""
    if draft.build.vehicle not in premises.catalog.vehicle_by_id:
        return ()
    known = {part.id for part in _parts(premises, draft.build)}
    return tuple(line for line in draft.build.survey if line.part not in known)


def set_verdict(
    premises: Premises,
    reference: str,
    part_id: str,
    *,
    revision: int,
    line: Mapping[str, object] | None,
    now: datetime,
) -> Draft:
    """Put the verdict on a part in the place of the one before; None for not looked at.

    Parameters
    ----------
    premises, reference, revision, now
        As for `consultation.pick_option`.
    part_id : str
        Of the workshop's list for this vehicle; or lost by it, to take the verdict out.
    line : mapping or None
        The entries of `SurveyLine` but the part, as a form sends them. Hours and parts that are
        left out are the workshop's usual ones.

    Returns
    -------
    Draft
        As it is on disk now; undone like any other change.

    Raises
    ------
    ChoiceError
        If the vehicle has no such part, or an entry cannot be; all faults together.
    StaleDraftError
        If somebody else changed the draft meanwhile.
    RecordError
        If it cannot be saved.
    """
    wanted = None if line is None else read_line({**line, "part": part_id})

    def save(draft: Draft) -> Draft:
        check_vehicle(premises.catalog, draft.build.vehicle)
        order = [part.id for part in _parts(premises, draft.build)]
        if part_id not in order and wanted is not None:
            what = f'the survey of this vehicle has no part "{part_id[:60]}"'
            raise ChoiceError([Fault("P018", "Survey", what, did_you_mean(part_id, order))])
        if wanted is not None and wanted.from_second_donor and draft.build.second_donor is None:
            what = "the part is taken from a second donor, and none is told"
            raise ChoiceError([Fault("P018", "Second donor", what, "Describe it first.")])
        others = [each for each in draft.build.survey if each.part != part_id]
        lines = sorted(
            [*others, *([wanted] if wanted else [])], key=lambda each: _place(order, each)
        )
        build = draft.build.model_copy(update={"survey": tuple(lines)})
        return save_steps(
            premises, draft, "survey", field_steps(draft.build, build, "survey"), now=now
        )

    def is_done(draft: Draft) -> bool:
        return wanted == next((each for each in draft.build.survey if each.part == part_id), None)

    return take_step(premises, reference, revision, is_done=is_done, save=save)


def set_donors(
    premises: Premises,
    reference: str,
    *,
    revision: int,
    donor: Mapping[str, object],
    second_donor: Mapping[str, object] | None,
    now: datetime,
) -> Draft:
    """Put what is known of the donor, and of a second one, in the place of what was known.

    Parameters
    ----------
    premises, reference, revision, now
        As for `consultation.pick_option`.
    donor : mapping
        The entries of `Donor`, as a form sends them.
    second_donor : mapping or None
        The entries of `SecondDonor`; None where there is none.

    Raises
    ------
    ChoiceError
        If an entry cannot be, or parts are still taken from a second donor that is taken away.
    StaleDraftError
        If somebody else changed the draft meanwhile.
    RecordError
        If it cannot be saved.
    """
    vehicle_id = read_draft(premises, reference).build.vehicle
    check_vehicle(premises.catalog, vehicle_id)
    most_kg = premises.catalog.vehicle_by_id[vehicle_id].gross_mass_limit_kg
    wanted, second = read_donors(donor, second_donor, now.date(), most_kg)

    def save(draft: Draft) -> Draft:
        labels = {part.id: part.label for part in _parts(premises, draft.build)}
        survey = draft.build.survey
        taken = [labels.get(line.part, line.part) for line in survey if line.from_second_donor]
        if second is None and taken:
            verb = "is" if len(taken) == 1 else "are"
            what = f"{len(taken)} of its parts {verb} taken: {listed(taken)}"
            remedy = "Say of these parts first where they come from."
            raise ChoiceError([Fault("P018", "Second donor", what, remedy)])
        build = draft.build.model_copy(update={"donor": wanted, "second_donor": second})
        steps = field_steps(draft.build, build, "donor", "second_donor")
        return save_steps(premises, draft, "donor", steps, now=now)

    def is_done(draft: Draft) -> bool:
        return (draft.build.donor, draft.build.second_donor) == (wanted, second)

    return take_step(premises, reference, revision, is_done=is_done, save=save)


def _parts(premises: Premises, build: BuildInput) -> tuple[SurveyPart, ...]:
    vehicle = premises.catalog.vehicle_by_id[build.vehicle]
    return survey_template(premises.catalog, vehicle).parts


def _place(order: list[str], line: SurveyLine) -> int:
    """Put a part that the list has lost at the end, with its line."""
    return order.index(line.part) if line.part in order else len(order)

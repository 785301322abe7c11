"""The survey of the donor: each verdict with the hours and parts it costs."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from configurator.catalog.models.build import BuildInput, SecondDonor, SurveyLine
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.vehicle import Vehicle, Work
from configurator.catalog.models.workshop import SurveyPart, SurveyTemplate
from configurator.errors import ChoiceError, Fault


@dataclass(frozen=True)
class SurveyedPart:
    """A part with its verdict; the workshop's usual figures fill what the line leaves out."""

    part: SurveyPart
    line: SurveyLine
    hours: Decimal
    parts_gbp: Decimal

    @property
    def work(self) -> tuple[Work, ...]:
        """The hours as work of the part's trade in its stage; none when it is kept."""
        if self.hours == 0:
            return ()
        return (Work(trade=self.part.trade, hours=self.hours, stage=self.part.stage),)


def surveyed_parts(
    catalog: Catalog, vehicle: Vehicle, build: BuildInput
) -> tuple[SurveyedPart, ...]:
    """Read the survey of a build against the vehicle's template.

    Raises
    ------
    ChoiceError
        If a line names a part that the template does not have.
    """
    part_by_id = {part.id: part for part in survey_template(catalog, vehicle).parts}
    unknown = [line.part for line in build.survey if line.part not in part_by_id]
    if unknown:
        raise ChoiceError(
            Fault(
                "S004",
                f"survey.{name}",
                f'the survey of the {vehicle.label} has no part "{name}"',
                f"Name one of {', '.join(part_by_id)}.",
            )
            for name in unknown
        )
    return tuple(surveyed_part(part_by_id[line.part], line) for line in build.survey)


def survey_template(catalog: Catalog, vehicle: Vehicle) -> SurveyTemplate:
    """Find the list of what is looked at on a vehicle."""
    return next(t for t in catalog.survey_templates if t.id == vehicle.survey_template)


def second_donor_words(second: SecondDonor | None) -> str:
    """Say what is known of a second donor; empty where there is none.

    Examples
    --------
    >>> second_donor_words(SecondDonor(description="Front crushed.", identity_mark="Sample 2"))
    'Front crushed; identity mark Sample 2'
    """
    if second is None:
        return ""
    mark = f"identity mark {second.identity_mark}" if second.identity_mark else ""
    told = "; ".join(words for words in (second.description.rstrip(". "), mark) if words)
    return told or "not described"


def of_unknown_origin(part: SurveyPart, line: SurveyLine) -> bool:
    """Tell whether a used part stays or goes in whose maker must be known, and is not told."""
    is_used = line.verdict != "replace" or line.from_second_donor
    return part.origin_must_be_known and is_used and not line.origin


def surveyed_part(part: SurveyPart, line: SurveyLine) -> SurveyedPart:
    """Join a part with its line; the workshop's usual figures fill what the line leaves out."""
    usual = {
        "keep": (Decimal(0), Decimal(0)),
        "repair": (part.repair_hours, part.repair_parts_gbp),
        "replace": (part.replace_hours, part.replace_parts_gbp),
    }
    hours, parts_gbp = usual[line.verdict]
    return SurveyedPart(
        part=part,
        line=line,
        hours=hours if line.hours is None else line.hours,
        parts_gbp=parts_gbp if line.parts_gbp is None else line.parts_gbp,
    )

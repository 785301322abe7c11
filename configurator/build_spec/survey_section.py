"""The surveyed parts, each with what it costs."""

from __future__ import annotations

from collections.abc import Mapping
from typing import get_args

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.price_lines import PriceBasis
from configurator.build_spec.spec import Spec
from configurator.build_spec.survey import SurveyedPart, survey_template, surveyed_part
from configurator.build_spec.survey_result import SurveyResult
from configurator.catalog.models.build import SurveyLine, Verdict
from configurator.catalog.models.workshop import SurveyPart
from configurator.pricing.net_price import net_price_gbp
from configurator.pricing.vat import gross_pence
from configurator.units import pounds

VERDICTS: tuple[Verdict, ...] = get_args(Verdict)
NO_PRICE_YET = (
    "The price does not hold for what is found there: that is priced by a change order, which both "
    "sides sign."
)
FROM_SECOND_DONOR = "From the second donor"


def survey_results(compiled: Compiled) -> tuple[SurveyResult, ...]:
    """Tell of every surveyed part what is done and what that costs."""
    return tuple(survey_result(item, compiled.basis) for item in compiled.surveyed)


def not_surveyed(compiled: Compiled) -> tuple[str, ...]:
    """Name the parts of the donor that nobody has looked at, in the order of the list."""
    looked_at = {item.part.id for item in compiled.surveyed}
    parts = survey_template(compiled.catalog, compiled.offer.vehicle).parts
    return tuple(part.label for part in parts if part.id not in looked_at)


def not_surveyed_words(spec: Spec) -> str:
    """Say which parts nobody has looked at and that no price is promised for them; else empty."""
    names = spec.not_surveyed
    if not names:
        return ""
    parts, verb = ("1 part", "was") if len(names) == 1 else (f"{len(names)} parts", "were")
    said = f"The donor was not surveyed: nobody has looked at any of its {parts}."
    if spec.survey:
        # A label may hold commas of its own.
        said = f"{parts} of the donor {verb} not surveyed: {'; '.join(names)}."
    return f"{said} {NO_PRICE_YET}"


def usual_results(part: SurveyPart, basis: PriceBasis) -> Mapping[Verdict, SurveyResult]:
    """Tell what each verdict on a part usually costs, by the workshop's own figures."""
    return {
        verdict: survey_result(
            surveyed_part(part, SurveyLine(part=part.id, verdict=verdict)), basis
        )
        for verdict in VERDICTS
    }


def survey_result(item: SurveyedPart, basis: PriceBasis) -> SurveyResult:
    """Tell what is done with a part and what that costs, with VAT."""
    net_gbp = net_price_gbp(item.parts_gbp, item.work, basis.rates)
    return SurveyResult(
        part_id=item.part.id,
        label=item.part.label,
        area=item.part.area,
        verdict=item.line.verdict,
        hours=item.hours,
        amount_gbp=pounds(gross_pence(net_gbp, basis.vat_percent)),
        provisional_gbp=pounds(gross_pence(item.line.provisional_gbp, basis.vat_percent)),
        origin=_origin(item.line),
        note=item.line.note,
    )


def _origin(line: SurveyLine) -> str:
    """Say where a part comes from, as it is printed."""
    told = line.origin
    if not line.from_second_donor:
        return told
    return f"{FROM_SECOND_DONOR}. {told[:1].upper()}{told[1:]}" if told else FROM_SECOND_DONOR

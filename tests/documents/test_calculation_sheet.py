"""The calculation sheet tells every figure, says that it approves nothing, and is reproducible."""

from datetime import date
from functools import cache

from configurator.build_spec.derivation import Derivation
from configurator.build_spec.derivations.explain import derive_all
from configurator.build_spec.engines import Engines
from configurator.build_spec.fact_names import FACT_LABELS
from configurator.build_spec.pipeline import specify
from configurator.build_spec.spec import Spec
from configurator.catalog.models.rule import CountryRule
from configurator.documents.calculation_sheet import WITHIN_OTHERS, calculation_sheet_pdf
from configurator.documents.handover_pack.pack import handover_pack_pdf
from tests.build_spec.tiny_builds import build_of, tiny_catalog
from tests.documents.read_pdf import flat_text, read_pages
from tests.documents.sample_spec import sample_spec


@cache
def worked_out(*, complete: bool) -> tuple[Spec, tuple[Derivation, ...]]:
    catalog, engines = tiny_catalog(), Engines()
    build = build_of(catalog.vehicles[0].id)
    asked = build.model_copy(update={"house_choices_for_the_rest": complete})
    spec = specify(catalog, asked, engines)
    return spec, derive_all(catalog, spec.build, engines)


@cache
def sheet_of(*, complete: bool) -> bytes:
    return calculation_sheet_pdf(*worked_out(complete=complete))


def test_every_fact_is_told_with_its_formula_or_within_another() -> None:
    spec, derivations = worked_out(complete=True)
    printed = flat_text(read_pages(calculation_sheet_pdf(spec, derivations)))
    assert {(fact.name, fact.case) for fact in spec.facts} == {
        (derivation.fact, derivation.case) for derivation in derivations
    }
    for derivation in derivations:
        if derivation.fact not in WITHIN_OTHERS:
            assert FACT_LABELS[derivation.fact].label in printed
    for words in ("Consumption, together", "Middle of the range", "Range, one in ten beyond"):
        assert words in printed


def test_each_page_says_that_it_is_no_approval_and_counts() -> None:
    pages = read_pages(sheet_of(complete=True))
    for number, page in enumerate(pages, start=1):
        said = flat_text([page])
        assert "no approval" in said
        assert f"Page {number} of {len(pages)}" in said


def test_the_law_is_told_to_whom_it_is_for() -> None:
    # Source: common practice, no source: an owner's folder gives no advice on how to sell.
    rules = [
        CountryRule(
            id=audience,
            country="United Kingdom",
            title=f"Title {audience}",
            advice=f"Advice for {audience}.",
            audience=audience,
            authority="An authority",
            valid_from=date(2026, 1, 1),
            source="invented for tests",
        )
        for audience in ("owner", "workshop", "both")
    ]
    told = {"country_rules": tuple(rules)}
    owners = flat_text(read_pages(handover_pack_pdf(sample_spec(**told))))
    workshops = flat_text(read_pages(calculation_sheet_pdf(sample_spec(**told), ())))
    assert "Advice for owner." in owners
    assert "Advice for both." in owners
    assert "Advice for workshop." not in owners
    assert "What the law asks of the workshop" in workshops
    assert "Advice for workshop." in workshops
    assert "Advice for both." in workshops
    assert "Advice for owner." not in workshops


def test_no_rate_is_told() -> None:
    printed = flat_text(read_pages(sheet_of(complete=True)))
    assert "Rates, cost and margin of money are left out" in printed
    for trade in tiny_catalog().workshop.trades:
        assert f"£{trade.rate_gbp_per_hour:,.2f}" not in printed


def test_an_open_build_is_told_by_its_default_with_the_from_to() -> None:
    spec, derivations = worked_out(complete=False)
    printed = flat_text(read_pages(calculation_sheet_pdf(spec, derivations)))
    assert "the workshop chooses the rest" in printed
    price = spec.fact("price_gbp", None)
    assert price is not None
    assert f"from £{price.low:,.2f} to £{price.high:,.2f}" in printed


def test_the_same_spec_gives_the_same_bytes_whatever_was_asked_before() -> None:
    for complete in (True, False):
        spec, derivations = worked_out(complete=complete)
        fresh = derive_all(tiny_catalog(), spec.build, Engines())
        assert calculation_sheet_pdf(spec, derivations) == calculation_sheet_pdf(spec, fresh)

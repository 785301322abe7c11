"""Catalog and build in, Spec out: one pure pipeline from end to end."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from configurator import __version__
from configurator.build_spec.charging_section import charging_lines
from configurator.build_spec.compiled import Compiled
from configurator.build_spec.customers_day import customers_day
from configurator.build_spec.drive_state import slots_filled
from configurator.build_spec.electrical_section import electrical_checks
from configurator.build_spec.engines import Engines
from configurator.build_spec.extremes import Asking, sum_extremes
from configurator.build_spec.facts import Extent, extents_of_complete, extents_of_open
from configurator.build_spec.findings import find_all
from configurator.build_spec.group_states import group_states
from configurator.build_spec.near_limit import RangeLimits
from configurator.build_spec.performance_section import performance_lines
from configurator.build_spec.price_section import price_section
from configurator.build_spec.range_section import range_lines
from configurator.build_spec.settle import Settled, settle, settle_so_far
from configurator.build_spec.spec import FittedComponent, Spec, SpecChoice
from configurator.build_spec.standing import Assessment, GroupState, PriceFromTo
from configurator.build_spec.survey_section import not_surveyed, survey_results
from configurator.build_spec.text_section import texts_for
from configurator.build_spec.told_facts import Wanted, every_fact, shown_in_the_talk
from configurator.build_spec.use_section import open_groups, plan_section
from configurator.build_spec.weight_as_weighed import extents_as_weighed
from configurator.build_spec.weights_section import ledger, weights_section
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.rule import CountryRule
from configurator.units import pounds


def specify(catalog: Catalog, build: BuildInput, engines: Engines) -> Spec:
    """Compute everything that can be promised about a build.

    Parameters
    ----------
    catalog : Catalog
        The workshop's catalog.
    build : BuildInput
        The build as it stands; open groups are allowed.
    engines : Engines
        Compiled builds kept warm.

    Returns
    -------
    Spec
        While groups are open each fact is the exact from–to over all builds still possible.

    Raises
    ------
    ChoiceError
        If the vehicle or a surveyed part is unknown.
    CatalogError
        If a limit cannot be used as written.
    """
    compiled = engines.compiled(catalog, build)
    return _spec(compiled, build, settle(compiled, build), every_fact)


def stand(
    catalog: Catalog, build: BuildInput, engines: Engines, explain_parts: Collection[str] = ()
) -> tuple[GroupState, ...]:
    """Tell how every option of every group stands; quick, since no fact is computed.

    Parameters
    ----------
    catalog, build, engines
        As for `specify`.
    explain_parts : collection of str
        Parts of the talk whose options get reasons and ways out where they are not possible.

    Returns
    -------
    tuple of GroupState
        In the order of the talk.
    """
    compiled = engines.compiled(catalog, build)
    return group_states(compiled, settle(compiled, build), explain_parts)


def stand_so_far(catalog: Catalog, build: BuildInput, engines: Engines) -> tuple[GroupState, ...]:
    """Tell of the options what is known at once; None where the answer takes a longer question."""
    compiled = engines.compiled(catalog, build)
    return group_states(compiled, settle_so_far(compiled, build), ())


def price_alone(catalog: Catalog, build: BuildInput, engines: Engines) -> PriceFromTo:
    """Compute the price and nothing else; the same as in the Spec, and sooner."""
    compiled = engines.compiled(catalog, build)
    settled = settle(compiled, build)
    low, high = _price_pence(compiled, settled)
    return PriceFromTo(
        low_gbp=pounds(low), high_gbp=pounds(high), vat_percent=compiled.basis.vat_percent
    )


def outline(catalog: Catalog, build: BuildInput, engines: Engines) -> Spec:
    """Compute the Spec with what the talk shows.

    While groups are open, the Spec holds of the facts of physics only range in the headline cases
    and overnight charging, and an end that takes long to find may be told as a hair wider: by less
    than half of a kilogram or a tenth of a kilometre. `specify` computes all of them exactly.
    """
    compiled = engines.compiled(catalog, build)
    settled = settle(compiled, build)
    return _spec(compiled, build, settled, shown_in_the_talk(catalog), exact=False)


def assess(
    catalog: Catalog, build: BuildInput, engines: Engines, explain_parts: Collection[str] = ()
) -> Assessment:
    """Compute what the talk shows: how every option stands, and the outline of the Spec."""
    spec = outline(catalog, build, engines)
    return Assessment(
        spec=spec,
        groups=stand(catalog, build, engines, explain_parts),
        is_contradictory=any(finding.code == "F006" for finding in spec.findings),
    )


def _spec(
    compiled: Compiled, build: BuildInput, settled: Settled, wanted: Wanted, *, exact: bool = True
) -> Spec:
    asking = _asking(compiled, settled, exact=exact)
    choices = settled.choices
    complete = len(choices) == len(compiled.offer.groups)
    computed = _extents(compiled, settled, asking, wanted)
    extents = extents_as_weighed(compiled, choices, build, computed)
    by_key = {(extent.name, extent.case): extent for extent in extents}
    price, hours = by_key["price_gbp", None], by_key["workshop_hours", None]
    plan = plan_section(compiled, settled, build, by_key, asking)
    fitted = _fitted(compiled, settled, build)
    before_weighing = {(extent.name, extent.case): extent for extent in computed}
    weights = weights_section(compiled, settled, build, by_key, asking, computed=before_weighing)
    facts = tuple(extent.as_fact() for extent in extents)
    # The talk shows no day, and an open build's default completion may take a moment.
    asked = build if exact else build.model_copy(update={"day": None})
    day = customers_day(compiled, asked)
    electrical = electrical_checks(compiled, choices, build.as_built)
    performance = performance_lines(compiled, choices, by_key)
    return Spec(
        build=_promised(build),
        catalog_sha256=compiled.catalog.sha256,
        tool_version=__version__,
        workshop=compiled.catalog.workshop,
        vehicle=compiled.offer.vehicle,
        is_complete=complete,
        choices=_choices(compiled, settled),
        open_groups=open_groups(compiled, settled, build, plan),
        facts=facts,
        price=price_section(compiled, settled, (price.low, price.high), (hours.low, hours.high)),
        weights=weights,
        ledger=ledger(compiled, settled),
        ranges=range_lines(compiled, choices, by_key, build.donor),
        charging=charging_lines(compiled, choices, by_key),
        electrical=electrical,
        performance=performance,
        plan=plan,
        findings=find_all(
            compiled,
            asked,
            settled,
            extents,
            day=day,
            electrical=electrical,
            performance=performance,
            weights=weights.checks,
        ),
        fitted=fitted,
        survey=survey_results(compiled),
        not_surveyed=not_surveyed(compiled),
        texts=texts_for(compiled, choices, fitted, facts),
        country_rules=_country_rules(compiled, build),
        day=day,
    )


def _promised(build: BuildInput) -> BuildInput:
    """Leave out what is not handed out: the workshop's own notes, and what only led to a choice."""
    led = {"wishes": (), "preferences": (), "must_keep": ()}
    return build.model_copy(update={"notes": "", **led})


def _asking(compiled: Compiled, settled: Settled, *, exact: bool = True) -> Asking:
    left = {
        group: frozenset(option for option, possible in options.items() if possible)
        for group, options in settled.available.items()
        if group not in settled.choices
    }
    picks = settled.choices
    left = left if settled.is_possible else {}
    return Asking(compiled.engine, picks, compiled.known, left, exact)


def _price_pence(compiled: Compiled, settled: Settled) -> tuple[int, int]:
    price, choices = compiled.book.price, settled.choices
    if len(choices) < len(compiled.offer.groups) and settled.is_possible:
        found = sum_extremes(_asking(compiled, settled), price)
        if found is not None:
            return found
    total = price.of({**compiled.offer.house_choices(), **choices})
    return total, total


def _extents(compiled: Compiled, settled: Settled, asking: Asking, wanted: Wanted) -> list[Extent]:
    """Compute the facts; where the picks contradict each other, with the house's other choices."""
    choices = settled.choices
    if len(choices) == len(compiled.offer.groups):
        return extents_of_complete(compiled.book, choices)
    if settled.is_possible:
        blocking = [forms for forms in compiled.limits if forms.limit.severity == "blocks"]
        range_limits = RangeLimits(compiled)
        return extents_of_open(
            compiled.book,
            asking,
            blocking,
            lambda case: range_limits.reached(case, asking.picks),
            wanted,
        )
    return extents_of_complete(compiled.book, {**compiled.offer.house_choices(), **choices})


def _choices(compiled: Compiled, settled: Settled) -> tuple[SpecChoice, ...]:
    choices = settled.choices
    return tuple(
        SpecChoice(
            group_id=group.id,
            group_label=group.label,
            part_id=group.part,
            option_id=option.id,
            option_label=option.label,
            summary=option.summary,
            origin=origin,
            look=option.look,
        )
        for group, option in compiled.offer.pairs()
        if choices.get(group.id) == option.id
        if (origin := settled.origin(group.id)) is not None
    )


def _fitted(compiled: Compiled, settled: Settled, build: BuildInput) -> tuple[FittedComponent, ...]:
    """List the slots whose component no open group can still change."""
    offer, choices = compiled.offer, settled.choices
    still_open = {
        slot for group, option in offer.pairs() if group.id not in choices for slot in option.fits
    }
    serials = build.as_built.serial_numbers if build.as_built else {}
    return tuple(
        FittedComponent(
            slot=slot,
            component=compiled.catalog.component_by_id[component_id],
            serial_number=serials.get(slot),
        )
        for slot, component_id in slots_filled(offer, offer.options_of(choices))
        if slot not in still_open
    )


def _country_rules(compiled: Compiled, build: BuildInput) -> tuple[CountryRule, ...]:
    rules: Sequence[CountryRule] = compiled.catalog.country_rules
    return tuple(
        rule
        for rule in rules
        if rule.country == compiled.catalog.workshop.country
        and rule.valid_from <= build.priced_on
        and (rule.valid_until is None or build.priced_on <= rule.valid_until)
    )

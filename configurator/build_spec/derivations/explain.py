"""Work out any fact of a build, with its ends while choices are open."""

from __future__ import annotations

from collections.abc import Mapping

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.derivation import Derivation
from configurator.build_spec.derivations.balance import derive_balance
from configurator.build_spec.derivations.carried import derive_carried
from configurator.build_spec.derivations.ends import ends_of
from configurator.build_spec.derivations.masses import derive_masses
from configurator.build_spec.derivations.performance import derive_performance
from configurator.build_spec.derivations.plan import derive_plan
from configurator.build_spec.derivations.power import derive_power
from configurator.build_spec.derivations.price import derive_price
from configurator.build_spec.derivations.ranges import derive_range
from configurator.build_spec.derivations.worked import Question, Worked
from configurator.build_spec.engines import Engines
from configurator.build_spec.fact_names import FACT_LABELS
from configurator.build_spec.settle import settle
from configurator.build_spec.spec import Spec
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.rule import FactName


def derivable(spec: Spec) -> tuple[tuple[FactName, str | None], ...]:
    """List the facts of a spec that can be worked out: all of them.

    Parameters
    ----------
    spec : Spec
        Of any build.
    """
    return tuple((fact.name, fact.case) for fact in spec.facts)


def derive(
    catalog: Catalog,
    build: BuildInput,
    engines: Engines,
    name: FactName,
    case: str | None = None,
) -> Derivation | None:
    """Work out a fact so that a person with paper can follow.

    Parameters
    ----------
    catalog, build, engines
        As for `specify`.
    name : FactName
        The fact.
    case : str, optional
        The driving case or charging source of a fact that has one.

    Returns
    -------
    Derivation or None
        Its last step is the fact of the Spec. While choices are open it is worked out for the build
        in which the workshop chooses the rest, with both ends of the from–to and the choices that
        give them. None where what is fitted has no such fact.

    Raises
    ------
    ChoiceError
        If the vehicle or a surveyed part is unknown.
    CatalogError
        If a limit cannot be used as written.
    """
    compiled = engines.compiled(catalog, build)
    settled = settle(compiled, build)
    is_open = len(settled.choices) < len(compiled.offer.groups)
    choices = _default(compiled, build) if is_open else settled.choices
    worked = _worked(Question(compiled, build, choices), name, case)
    if worked is None:
        return None
    return Derivation(
        fact=name,
        case=case,
        label=FACT_LABELS[name].label,
        case_label=_case_label(catalog, case),
        formula=worked.formula,
        inputs=worked.inputs,
        steps=worked.steps,
        source=worked.source,
        beside=worked.beside,
        narrowed_by=worked.narrowed_by,
        is_default=is_open,
        ends=ends_of(compiled, settled, name, case) if is_open and settled.is_possible else (),
    )


def _worked(question: Question, name: FactName, case: str | None) -> Worked | None:
    return (
        derive_price(question, name)
        or derive_plan(question, name)
        or derive_masses(question, name)
        or derive_balance(question, name)
        or derive_carried(question, name)
        or derive_performance(question, name)
        or derive_range(question, name, case)
        or derive_power(question, name, case)
    )


def _default(compiled: Compiled, build: BuildInput) -> Mapping[str, str]:
    """Let the workshop choose the rest; where the picks contradict each other, as the Spec does."""
    asked = build.model_copy(update={"house_choices_for_the_rest": True})
    choices = settle(compiled, asked).choices
    return {**compiled.offer.house_choices(), **choices}


def _case_label(catalog: Catalog, case: str | None) -> str:
    labels = {found.id: found.label for found in catalog.driving_cases}
    labels |= {found.id: found.label for found in catalog.charging_sources}
    return labels.get(case or "", "")

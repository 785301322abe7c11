"""Work out any fact of a build, with its ends while choices are open."""

from __future__ import annotations

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
from configurator.build_spec.derivations.topics import TOPICS
from configurator.build_spec.derivations.worked import Question, Worked
from configurator.build_spec.engines import Engines
from configurator.build_spec.fact_names import FACT_LABELS
from configurator.build_spec.facts import extents_of_complete
from configurator.build_spec.settle import settle
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.rule import FactName

Key = tuple[FactName, str | None]


def derivable(catalog: Catalog, build: BuildInput, engines: Engines) -> tuple[Key, ...]:
    """List the facts that `derive` works out, by topic, each with its case.

    Parameters
    ----------
    catalog, build, engines
        As for `derive`.

    Returns
    -------
    tuple of (FactName, case or None)
        Every fact of the build; while choices are open, of the one in which the workshop chooses
        the rest.
    """
    question = _question(catalog, build, engines)
    order = [name for names in TOPICS.values() for name in names]
    facts = extents_of_complete(question.compiled.book, question.choices)
    keys = [(fact.name, fact.case) for fact in facts]
    return tuple(sorted(keys, key=lambda key: order.index(key[0])))


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
    question = _question(catalog, build, engines)
    settled = settle(compiled, build)
    is_open = len(settled.choices) < len(compiled.offer.groups)
    derivation = _derived(question, name, case, is_default=is_open)
    if derivation is None or not is_open or not settled.is_possible:
        return derivation
    return derivation.model_copy(update={"ends": ends_of(compiled, settled, name, case)})


def derive_all(catalog: Catalog, build: BuildInput, engines: Engines) -> tuple[Derivation, ...]:
    """Work out every fact of a build, by topic, without the builds that give the ends.

    The arguments are as for `derive`. Which of several builds with the same end is found depends on
    earlier questions, and papers must be the same whenever they are made.
    """
    compiled, question = engines.compiled(catalog, build), _question(catalog, build, engines)
    is_open = len(settle(compiled, build).choices) < len(compiled.offer.groups)
    found = (
        _derived(question, *key, is_default=is_open) for key in derivable(catalog, build, engines)
    )
    return tuple(derivation for derivation in found if derivation is not None)


def _question(catalog: Catalog, build: BuildInput, engines: Engines) -> Question:
    """Let the workshop choose what is open; as the Spec does where the picks contradict."""
    compiled = engines.compiled(catalog, build)
    settled = settle(compiled, build).choices
    if len(settled) == len(compiled.offer.groups):
        return Question(compiled, build, settled)
    asked = build.model_copy(update={"house_choices_for_the_rest": True})
    # What was measured on the finished vehicle may count for these choices.
    compiled = engines.compiled(catalog, asked)
    choices = {**compiled.offer.house_choices(), **settle(compiled, asked).choices}
    return Question(compiled, build, choices)


def _derived(
    question: Question, name: FactName, case: str | None, *, is_default: bool
) -> Derivation | None:
    worked = _worked(question, name, case)
    if worked is None:
        return None
    return Derivation(
        fact=name,
        case=case,
        label=FACT_LABELS[name].label,
        case_label=_case_label(question.compiled.catalog, case),
        formula=worked.formula,
        inputs=worked.inputs,
        steps=worked.steps,
        source=worked.source,
        beside=worked.beside,
        narrowed_by=worked.narrowed_by,
        is_default=is_default,
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


def _case_label(catalog: Catalog, case: str | None) -> str:
    labels = {found.id: found.label for found in catalog.driving_cases}
    labels |= {found.id: found.label for found in catalog.charging_sources}
    return labels.get(case or "", "")

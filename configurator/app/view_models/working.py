"""A figure worked out, as the screen shows it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from urllib.parse import urlencode

from configurator.app.view_models.words import MINUS, UNBROKEN_SPACE, rounded, source_told
from configurator.build_spec.derivation import Derivation, DerivationEnd, DerivationStep
from configurator.build_spec.derivations.explain import Key
from configurator.build_spec.derivations.topics import topic_of
from configurator.build_spec.fact_names import FACT_LABELS
from configurator.build_spec.stated_input import StatedInput
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.data import Basis

BASIS_WORDS: dict[Basis, str] = {
    "measured": "Measured",
    "catalog": "Stated",
    "guessed": "Guessed",
}
OF_THE_DEFAULT = (
    "Choices are still open. What follows is worked out for one build: the one that comes out if "
    "the workshop chooses the rest. The from–to on the screen goes over all builds still possible."
)
HOW_ENDS = (
    "The ends are no guess: all builds that the open choices, rules and limits still allow are "
    "searched for the least and the greatest."
)


@dataclass(frozen=True)
class InputRow:
    """An input with its doubt and where it comes from."""

    label: str
    value: str
    doubt: str
    basis: Basis
    basis_words: str
    source: str


@dataclass(frozen=True)
class StepRow:
    """An intermediate value."""

    words: str
    value: str


@dataclass(frozen=True)
class EndRow:
    """An end of a from–to with the choices that give it."""

    words: str
    choices: tuple[str, ...]


@dataclass(frozen=True)
class WorkingPage:
    """One figure, worked out."""

    title: str
    beneath: str
    formula: str
    source: str
    inputs: tuple[InputRow, ...]
    steps: tuple[StepRow, ...]
    result: StepRow
    beside: tuple[StepRow, ...]
    narrowed_by: tuple[str, ...]
    default_note: str
    ends: tuple[EndRow, ...]


def working_page(derivation: Derivation) -> WorkingPage:
    """Prepare a derivation; all text."""
    *steps, last = (_step(step) for step in derivation.steps)
    return WorkingPage(
        title=derivation.label,
        beneath=derivation.case_label,
        formula=f"{derivation.formula[:1].upper()}{derivation.formula[1:]}.",
        source=source_told(f"Method: {derivation.source}."),
        inputs=tuple(_input(stated) for stated in derivation.inputs),
        steps=tuple(steps),
        result=last,
        beside=tuple(_step(step) for step in derivation.beside),
        narrowed_by=derivation.narrowed_by,
        default_note=OF_THE_DEFAULT if derivation.is_default else "",
        ends=tuple(_end(end, derivation.steps[-1]) for end in derivation.ends),
    )


def figure_label(key: Key, catalog: Catalog) -> str:
    """Name a figure in the list of all: topic, fact, case."""
    name, case = key
    labels = {found.id: found.label for found in catalog.driving_cases}
    labels |= {found.id: found.label for found in catalog.charging_sources}
    of_case = f", {labels.get(case, case)}" if case else ""
    return f"{topic_of(name)}: {FACT_LABELS[name].label}{of_case}"


def wanted_figure(
    keys: Sequence[Key], name: str | None, case: str | None, headline_case: str
) -> Key:
    """Find the figure that the address names; the nearest there is where it names none."""
    named = [key for key in keys if key[0] == name]
    exact = [key for key in named if key[1] == case]
    headline = [key for key in named if key[1] == headline_case]
    return (exact or headline or named or list(keys))[0]


def working_address(reference: str, key: Key) -> str:
    """Write the address of a figure's working.

    Examples
    --------
    >>> working_address("B-0001", ("charging_hours", "wall-box"))
    'working?build=B-0001&fact=charging_hours&case=wall-box'
    """
    name, case = key
    query = {"build": reference, "fact": name, **({"case": case} if case else {})}
    return f"working?{urlencode(query)}"


def quantity(value: float, unit: str, decimals: int) -> str:
    r"""Write a value with its unit.

    Examples
    --------
    >>> quantity(-1250.5, "GBP", 2), quantity(0.04, "kg", 0)
    ('−£1,250.50', '0\xa0kg')
    """
    number = rounded(value, decimals)
    if unit != "GBP":
        return f"{number}{UNBROKEN_SPACE}{unit}".rstrip()
    return f"{MINUS}£{number[1:]}" if number.startswith(MINUS) else f"£{number}"


def plain(value: float) -> str:
    """Write a stated value with the digits that tell something.

    Examples
    --------
    >>> plain(1799.0), plain(0.89690422), plain(0.0119), plain(-20.0)
    ('1,799', '0.8969', '0.0119', '−20')
    """
    digits = f"{value:,.0f}" if abs(value) >= 1000 else f"{value:.4g}"
    return digits.replace("-", MINUS)


def _input(stated: StatedInput) -> InputRow:
    is_doubt_alone = stated.value == 0 and stated.sigma > 0
    return InputRow(
        label=stated.label,
        value=""
        if is_doubt_alone
        else f"{plain(stated.value)}{UNBROKEN_SPACE}{stated.unit}".rstrip(),
        doubt=f"±{UNBROKEN_SPACE}{plain(stated.sigma_told)}{UNBROKEN_SPACE}{stated.unit}".rstrip()
        if stated.sigma
        else "",
        basis=stated.basis,
        basis_words=BASIS_WORDS[stated.basis],
        source=source_told(stated.source),
    )


def _step(step: DerivationStep) -> StepRow:
    return StepRow(step.words, quantity(step.value, step.unit, step.decimals))


def _end(end: DerivationEnd, result: DerivationStep) -> EndRow:
    return EndRow(f"{end.words}: {quantity(end.value, result.unit, result.decimals)}", end.choices)

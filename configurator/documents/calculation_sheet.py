"""The calculation sheet: every figure worked out, for the workshop's own files."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from reportlab.platypus import Flowable

from configurator.build_spec.derivation import ROUNDED_WORDS, Derivation, DerivationStep
from configurator.build_spec.derivations.topics import TOPICS
from configurator.build_spec.spec import Spec
from configurator.build_spec.stated_input import StatedInput
from configurator.catalog.models.data import Basis
from configurator.documents.electrical_tables import electrical_blocks
from configurator.documents.figures import number
from configurator.documents.headings import joined, sheet_heading, subheading
from configurator.documents.law_blocks import law_table, rules_for
from configurator.documents.page_frame import frame_words
from configurator.documents.paged_document import pdf_bytes
from configurator.documents.paragraphs import bullets, small, words
from configurator.documents.tables import headed_table
from configurator.documents.weight_details import loading_blocks, mass_drawing_blocks

TITLE = "Calculation sheet"
MARK = "For the workshop. Computed, and no approval: competent persons check and sign."
OPENING = (
    "Each figure is worked out from its inputs, so that a person with paper can follow and check "
    "it. The last line of each table is the figure of the spec. Inputs stand once under each "
    "topic, with one standard deviation, how they are known, and from where. Rates, cost and "
    f"margin of money are left out. {ROUNDED_WORDS}"
)
OF_THE_DEFAULT = (
    "Choices are still open. Everything here is worked out for the build that comes out if the "
    "workshop chooses the rest; the least and greatest of all builds still possible stand beside."
)
NOT_AN_APPROVAL = (
    "A computed check is not an approval. Work on high voltage, batteries, brakes and lifting, and "
    "overloading, can kill: competent persons measure on the finished vehicle and decide, by the "
    "codes of the place."
)
BASIS_WORDS: dict[Basis, str] = {"measured": "measured", "catalog": "stated", "guessed": "GUESSED"}
WITHIN_OTHERS = frozenset({"range_mid_km", "range_high_km", "consumption_wh_per_km"})
"""Facts that are steps of the low edge, or follow from its factor: told in its table."""


def calculation_sheet_pdf(spec: Spec, derivations: Sequence[Derivation]) -> bytes:
    """Write the calculation sheet of a build.

    Parameters
    ----------
    spec : Spec
        Of any build.
    derivations : sequence of Derivation
        Of its facts; while choices are open, of its default completion.

    Returns
    -------
    bytes
        A PDF; the same arguments give the same bytes.

    Raises
    ------
    DocumentError
        D003 when something has no room on a page.
    """
    return pdf_bytes(joined(_story(spec, derivations)), frame_words(spec, TITLE, MARK))


def _story(spec: Spec, derivations: Sequence[Derivation]) -> list[Flowable]:
    story: list[Flowable] = [
        sheet_heading(f"{TITLE}: {spec.vehicle.label}, {spec.build.reference}", "opening"),
        words(OPENING),
        words(NOT_AN_APPROVAL),
    ]
    if any(derivation.is_default for derivation in derivations):
        story.append(words(OF_THE_DEFAULT))
    for topic, names in TOPICS.items():
        found = [derivation for derivation in derivations if derivation.fact in names]
        if found:
            key = topic.lower().replace(" ", "-")
            story += [sheet_heading(topic, key), *_topic_blocks(spec, found)]
    story += [sheet_heading("Checks of the electrical set", "checks"), *electrical_blocks(spec)]
    story += [sheet_heading("Stages of loading", "loadings"), *loading_blocks(spec)]
    story += [sheet_heading("Masses and places", "masses-drawn"), *mass_drawing_blocks(spec)]
    rules = rules_for(spec, "workshop")
    if not rules:
        return story
    title = f"What the law asks of the workshop, {spec.workshop.country}"
    return [*story, sheet_heading(title, "law"), *law_table(rules)]


def _topic_blocks(spec: Spec, derivations: Sequence[Derivation]) -> list[Flowable]:
    blocks: list[Flowable] = []
    for derivation in derivations:
        if derivation.fact not in WITHIN_OTHERS:
            blocks += _blocks(derivation, _other_edge(derivation, derivations))
            blocks += _from_to(spec, derivation)
    inputs = _once(stated for derivation in derivations for stated in derivation.inputs)
    if inputs:
        blocks += [subheading("What these figures rest on"), _inputs(inputs)]
    # The share of the doubt differs from case to case; what to do about it is told once.
    told = (line.partition(" (")[0] for d in derivations for line in d.narrowed_by)
    narrowed = list(dict.fromkeys(told))
    if narrowed:
        blocks += [subheading("What would make them surer"), *bullets(narrowed)]
    return blocks


def _other_edge(derivation: Derivation, others: Sequence[Derivation]) -> tuple[DerivationStep, ...]:
    """Tell the high edge of a range below its low edge."""
    if derivation.fact != "range_low_km":
        return ()
    return tuple(
        other.steps[-1].model_copy(update={"words": f"{other.label}: {other.steps[-1].words}"})
        for other in others
        if other.fact == "range_high_km" and other.case == derivation.case
    )


def _blocks(derivation: Derivation, more: Sequence[DerivationStep]) -> list[Flowable]:
    of_case = f", {derivation.case_label}" if derivation.case_label else ""
    formula = f"{derivation.formula[:1].upper()}{derivation.formula[1:]}."
    blocks: list[Flowable] = [
        subheading(f"{derivation.label}{of_case}"),
        small(f"{formula} Method: {derivation.source}."),
        _steps(derivation.steps),
    ]
    if beside := (*more, *derivation.beside):
        blocks.append(_steps(beside, has_total=False))
    return blocks


def _from_to(spec: Spec, derivation: Derivation) -> list[Flowable]:
    """Tell the least and greatest while choices are open."""
    fact, last = spec.fact(derivation.fact, derivation.case), derivation.steps[-1]
    if fact is None or fact.is_settled:
        return []
    low, high = _figure(fact.low, last), _figure(fact.high, last)
    return [small(f"Over all builds still possible: from {low} to {high}.")]


def _steps(steps: Sequence[DerivationStep], *, has_total: bool = True) -> Flowable:
    rows = [(step.words, _figure(step.value, step)) for step in steps]
    return headed_table(
        ("Step", "Value"), rows, (0.76, 0.24), figures=(1,), has_total=has_total and len(rows) > 1
    )


def _figure(value: float, step: DerivationStep) -> str:
    written = number(value, step.decimals)
    if step.unit == "GBP":
        return f"−£{written[1:]}" if written.startswith("−") else f"£{written}"
    return f"{written} {step.unit}".rstrip()


def _once(inputs: Iterable[StatedInput]) -> list[StatedInput]:
    """Leave out what was stated before with the same value."""
    return list({(found.label, found.value): found for found in inputs}.values())


def _inputs(inputs: Sequence[StatedInput]) -> Flowable:
    rows = [
        (
            found.label,
            "" if found.value == 0 and found.sigma else _stated(found.value, found.unit),
            f"± {_stated(found.sigma_told, found.unit)}" if found.sigma else "",
            BASIS_WORDS[found.basis],
            found.source,
        )
        for found in inputs
    ]
    head = ("Input", "Value", "One sigma", "Known", "From where")
    return headed_table(head, rows, (0.32, 0.12, 0.13, 0.12, 0.31), figures=(1, 2))


def _stated(value: float, unit: str) -> str:
    digits = number(value) if abs(value) >= 1000 else f"{value:.4g}".replace("-", "−")
    return f"{digits} {unit}".rstrip()

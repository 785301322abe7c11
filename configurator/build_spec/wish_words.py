"""What a build gives up of a customer's wishes, in sentences."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.fact_names import FACT_LABELS, with_unit
from configurator.build_spec.headline_case import harder_headline_case
from configurator.build_spec.sentences import in_a_sentence
from configurator.catalog.models.build import BuildInput, Wish
from configurator.catalog.models.rule import FactName

Values = Mapping[tuple[FactName, str | None], float]
"""The facts of a complete build."""


def fact_words(compiled: Compiled, name: FactName, case_id: str | None) -> str:
    """Name a fact with its case.

    Returns
    -------
    str
        Such as `Range, nine in ten beyond (country roads in winter)`.
    """
    label = FACT_LABELS[name].label
    if case_id is None:
        return label
    catalog = compiled.catalog
    labels = {case.id: case.label for case in catalog.driving_cases}
    labels |= {source.id: source.label for source in catalog.charging_sources}
    return f"{label} ({in_a_sentence(labels.get(case_id, case_id))})"


def short_fact_words(compiled: Compiled, name: FactName, case_id: str | None) -> str:
    """Name a fact within a sentence, in as few words as tell it from others that are wished for.

    Returns
    -------
    str
        Such as `range (country roads in winter)`.
    """
    words = in_a_sentence(fact_words(compiled, name, case_id))
    # The range held against a wish is the low edge wherever wishes are shown.
    return words.replace(", nine in ten beyond", "", 1) if name == "range_low_km" else words


def target_words(compiled: Compiled, wish: Wish) -> str:
    """Say a wish in words.

    Returns
    -------
    str
        Such as `Price with VAT at most £46,000.00`.
    """
    fact = fact_words(compiled, wish.fact, wish.case)
    if wish.at_least is not None:
        return f"{fact} at least {with_unit(wish.fact, wish.at_least)}"
    return f"{fact} at most {with_unit(wish.fact, wish.at_most or 0.0)}"


def meets(wish: Wish, value: float | None) -> bool:
    """Tell whether a fact's value meets a wish; a build without the fact does not.

    Examples
    --------
    >>> meets(Wish(fact="seats", at_least=4), 5.0), meets(Wish(fact="seats", at_least=4), None)
    (True, False)
    """
    return value is not None and short_by(wish, value) <= 0


def short_by(wish: Wish, value: float) -> float:
    """Tell by how much a value misses a wish; nothing or less where it meets it.

    Examples
    --------
    >>> short_by(Wish(fact="price_gbp", at_most=46000), 46900.0)
    900.0
    """
    if wish.at_least is not None:
        return round(wish.at_least, 3) - value
    return value - round(wish.at_most or 0.0, 3)


def missed_words(compiled: Compiled, wish: Wish, value: float | None) -> str:
    """Say how a build misses a wish."""
    target = target_words(compiled, wish)
    if value is None:
        return f"{target}: cannot be had with what is fitted."
    side = "short" if wish.at_least is not None else "over"
    missing = amount_words(wish.fact, short_by(wish, value))
    return f"{target}: {with_unit(wish.fact, value)}, {missing} {side}."


def amount_words(name: FactName, amount: float) -> str:
    """Write a difference of a fact, never less than it is.

    Examples
    --------
    >>> amount_words("range_low_km", 12.2).split(), amount_words("price_gbp", 900.0)
    (['13', 'km'], '£900.00')
    """
    step = 10.0 ** FACT_LABELS[name].decimals
    # What a hair of arithmetic put beside a whole step is that step.
    return with_unit(name, math.ceil(round(amount * step, 6)) / step)


def sentences_on_choices(
    compiled: Compiled, build: BuildInput, choices: Mapping[str, str]
) -> Iterable[str]:
    """Say each preference not kept and each other choice of the customer that is changed."""
    options, groups = compiled.offer.option_by_pair, compiled.offer.group_by_id
    preferred = set()
    for preference in build.preferences:
        preferred.add(preference.group)
        taken = choices[preference.group]
        if taken != preference.option:
            wanted = options[preference.group, preference.option].label
            group = in_a_sentence(groups[preference.group].label)
            yield f"Gives up {wanted} ({group}): {options[preference.group, taken].label} instead."
    for group_id, option_id in build.choices.items():
        taken = choices.get(group_id, option_id)
        if taken == option_id or (group_id, option_id) not in options or group_id in preferred:
            continue
        was, now = options[group_id, option_id].label, options[group_id, taken].label
        yield f"{groups[group_id].label}: {now} instead of {was}."


def sentences_beside(compiled: Compiled, first: Values, other: Values) -> Iterable[str]:
    """Say where a build falls behind the first one told: price, winter range, finish."""
    case = harder_headline_case(compiled.catalog)
    dearer = other["price_gbp", None] - first["price_gbp", None]
    if dearer > 0:
        yield f"{amount_words('price_gbp', dearer)} dearer than the first."
    before, after = first.get(("range_low_km", case.id)), other.get(("range_low_km", case.id))
    if before is not None and after is not None and before - after >= 1:
        less = amount_words("range_low_km", before - after)
        yield f"{less} less far than the first ({in_a_sentence(case.label)})."
    later = other["handover_weeks", None] - first["handover_weeks", None]
    days = round(later * 7)
    if days > 0:
        yield f"Ready {days} {'day' if days == 1 else 'days'} later than the first."

"""Reasons said for a customer: from the rules' own words, the names of options, the numbers."""

from __future__ import annotations

from collections.abc import Sequence

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.fact_names import plain_with_unit, telling_decimals, with_unit
from configurator.build_spec.limit_forms import LimitForms
from configurator.build_spec.standing import LimitReached
from configurator.catalog.models.data import Source
from configurator.catalog.models.rule import FactName
from configurator.rules.problem import Conflict

BARE_MARGINS: frozenset[FactName] = frozenset(
    {
        "front_axle_margin_kg",
        "rear_axle_margin_kg",
        "pack_voltage_over_v",
        "pack_voltage_under_v",
        "charger_voltage_over_v",
        "charger_voltage_under_v",
        "low_voltage_margin_w",
        "tyre_speed_margin_km_h",
        "cruise_power_margin_kw",
    }
)
"""Facts whose bound is a plain zero; to a customer the number says nothing."""

BEST_WORDS: dict[FactName, tuple[str, str]] = {
    "price_gbp": ("cheapest", "costs most"),
    "handover_weeks": ("quickest", "takes longest"),
    "workshop_hours": ("quickest", "takes longest"),
    **dict.fromkeys(
        (
            "kerb_mass_kg",
            "kerb_front_axle_kg",
            "kerb_rear_axle_kg",
            "laden_mass_kg",
            "laden_front_axle_kg",
            "laden_rear_axle_kg",
            "front_axle_margin_kg",
            "rear_axle_margin_kg",
            "payload_kg",
        ),
        ("lightest", "weighs most"),
    ),
}
"""What the best choice for a fact is called, and what the worst does; else `USUAL_WORDS`."""

USUAL_WORDS = ("best", "counts most")

MOST_SAID = 3
"""Rules and limits of a reason that are said in full; of more, the rest is counted."""


def source_words(source: str | Source) -> str:
    """Write a source in one line.

    Examples
    --------
    >>> source_words("common practice, no source")
    'common practice, no source'
    """
    if isinstance(source, str):
        return source
    clause = f", {source.clause}" if source.clause else ""
    seen = f" (looked up {source.checked_on.isoformat()})" if source.checked_on else ""
    return f"{source.title}{clause}{seen}"


def bound_words(forms: LimitForms) -> str:
    """Say a limit's bound in words.

    Returns
    -------
    str
        Such as `at most 1 300 kg`.
    """
    limit = forms.limit
    side = "at most" if limit.at_most is not None else "at least"
    return f"{side} {with_unit(limit.limit, forms.bound)}"


def option_name(compiled: Compiled, group_id: str, option_id: str) -> str:
    """Name an option with its group."""
    group = compiled.offer.group_by_id[group_id]
    return (
        f"{compiled.offer.option_by_pair[group_id, option_id].label} ({in_a_sentence(group.label)})"
    )


def in_a_sentence(label: str) -> str:
    """Start a label with a small letter, unless it starts with an abbreviation.

    Examples
    --------
    >>> in_a_sentence("Drive unit"), in_a_sentence("AC charger"), in_a_sentence("12 V supply")
    ('drive unit', 'AC charger', '12 V supply')
    """
    return label if label[1:2].isupper() else label[:1].lower() + label[1:]


def conflict_sentence(
    compiled: Compiled,
    conflict: Conflict,
    group_id: str,
    option_id: str,
    reached: Sequence[LimitReached] = (),
) -> str:
    """Say why an option is out: what it meets, then what speaks against it, with the numbers."""
    others = [pair for pair in conflict.picks if pair != (group_id, option_id)]
    names = listed([option_name(compiled, *pair) for pair in others])
    if len(others) == len(conflict.picks):
        whatever = "whatever is chosen here"
        opening = (
            f"{names} cannot stand together, {whatever}." if names else "No build is possible."
        )
    else:
        opening = f"Not with {names}." if names else "Not possible on this vehicle."
    return " ".join([opening, *_because(compiled, conflict, reached)])


def following_sentence(
    compiled: Compiled, conflict: Conflict, group_id: str, reached: Sequence[LimitReached]
) -> str:
    """Say why a group has one option left: what it follows from, then what rules the others out."""
    names = listed([option_name(compiled, *pair) for pair in conflict.picks])
    if names:
        opening = f"Follows from {names}."
    elif len(compiled.offer.group_by_id[group_id].options) == 1:
        opening = "The only one offered on this vehicle."
    else:
        opening = "The only one possible on this vehicle."
    return " ".join([opening, *_because(compiled, conflict, reached)])


def contradiction_sentence(
    compiled: Compiled, conflict: Conflict, reached: Sequence[LimitReached] = ()
) -> str:
    """Say why choices already made cannot stand together."""
    names = [option_name(compiled, *pair) for pair in conflict.picks]
    opening = f"{listed(names)} cannot stand together." if names else "No build is possible."
    return " ".join([opening, *_because(compiled, conflict, reached)])


def _because(compiled: Compiled, conflict: Conflict, reached: Sequence[LimitReached]) -> list[str]:
    rules = {rule.id: rule for rule in compiled.rules}
    limits = {forms.limit.id: forms for forms in compiled.limits}
    numbers = {told.limit_id: told for told in reached}
    said = [limit_words(limits[name], numbers.get(name)) for name in conflict.limits]
    said += [rules[name].because for name in conflict.implications]
    left_out = len(said) - MOST_SAID
    if left_out <= 1:
        return said
    return [*said[:MOST_SAID], f"{left_out} more rules have a part in it."]


def limit_words(forms: LimitForms, reached: LimitReached | None) -> str:
    """Say what a limit is for, how near to it a build can come, and what weighs most.

    Parameters
    ----------
    forms : LimitForms
        The limit with its bound.
    reached : LimitReached, optional
        The best that the choices leave; without it only the bound is said.
    """
    limit = forms.limit
    if reached is not None:
        return f"{limit.because} {limit.label}: {_missed_by(forms, reached)}."
    if limit.limit in BARE_MARGINS:
        return limit.because
    return f"{limit.because} ({limit.label} must be {bound_words(forms)}.)"


def _missed_by(forms: LimitForms, reached: LimitReached) -> str:
    limit, bound = forms.limit, forms.bound
    missed = abs(reached.reached - bound)
    decimals = telling_decimals(limit.limit, missed)

    def said(value: float) -> str:
        return plain_with_unit(limit.limit, value, decimals)

    best, does_most = BEST_WORDS.get(limit.limit, USUAL_WORDS)
    number = f"even with the {best} choice everywhere else"
    if limit.limit in BARE_MARGINS:
        number += f" it is missed by {said(missed)}"
    elif limit.at_most is not None:
        number += f" {said(reached.reached)}; at most {said(bound)}, so {said(missed)} too much"
    else:
        number += f" {said(reached.reached)}; at least {said(bound)}, so {said(missed)} too little"
    items = ", ".join(f"{label} ({said(share)})" for label, share in reached.heaviest)
    return f"{number}. What {does_most}: {items}" if items else number


def listed(names: Sequence[str]) -> str:
    """Join names as people do.

    Examples
    --------
    >>> listed(["cork", "oak", "carpet"])
    'cork, oak and carpet'
    """
    if len(names) <= 1:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"

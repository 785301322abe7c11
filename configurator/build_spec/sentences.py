"""Reasons said for a customer: from the rules' own words, the names of options, the numbers."""

from __future__ import annotations

from collections.abc import Sequence

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.fact_names import with_unit
from configurator.build_spec.limit_forms import LimitForms
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


def conflict_sentence(compiled: Compiled, conflict: Conflict, group_id: str, option_id: str) -> str:
    """Say why an option is out: what it meets, then what speaks against it."""
    others = [pair for pair in conflict.picks if pair != (group_id, option_id)]
    names = [option_name(compiled, *pair) for pair in others]
    opening = f"Not with {listed(names)}." if names else "Not possible on this vehicle."
    return " ".join([opening, *_because(compiled, conflict)])


def contradiction_sentence(compiled: Compiled, conflict: Conflict) -> str:
    """Say why choices already made cannot stand together."""
    names = [option_name(compiled, *pair) for pair in conflict.picks]
    opening = f"{listed(names)} cannot stand together." if names else "No build is possible."
    return " ".join([opening, *_because(compiled, conflict)])


def _because(compiled: Compiled, conflict: Conflict) -> list[str]:
    rules = {rule.id: rule for rule in compiled.rules}
    limits = {forms.limit.id: forms for forms in compiled.limits}
    said = [rules[name].because for name in conflict.implications]
    for name in conflict.limits:
        forms = limits[name]
        if forms.limit.limit in BARE_MARGINS:
            said.append(forms.limit.because)
            continue
        bound = f"{forms.limit.label} must be {bound_words(forms)}"
        said.append(f"{forms.limit.because} ({bound}.)")
    return said


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

"""Reasons said for a customer: from the rules' own words, the names of options, the numbers."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

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

MOST_NAMED = 4
"""Choices, or limits, that a reason names; of more, the rest is counted."""

MOST_SAID = 2
"""Rules and limits that a reason says in full."""

MOST_SENTENCES = 3
MOST_CHARACTERS = 450
"""What somebody reads beside an option; a longer reason is told with less in it."""

SENTENCE_END = re.compile(r"[.!?](?=\s|$)")


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
    is_part = len(others) < len(conflict.picks)

    def opening(most: int) -> str:
        names = _choices_named(compiled, others, most)
        if is_part:
            return f"Not with {names}." if names else "Not possible on this vehicle."
        together = f"{names} cannot stand together, whatever is chosen here."
        return together if names else "No build is possible."

    if is_part:
        builds = "No build with this option and these choices" if others else "No build with it"
    else:
        builds = "No build with these choices" if others else "No build"
    return _fitting(opening, builds, compiled, conflict, reached)


def following_sentence(
    compiled: Compiled, conflict: Conflict, group_id: str, reached: Sequence[LimitReached]
) -> str:
    """Say why a group has one option left: what it follows from, then what rules the others out."""

    def opening(most: int) -> str:
        if conflict.picks:
            return f"Follows from {_choices_named(compiled, conflict.picks, most)}."
        only = "offered" if len(compiled.offer.group_by_id[group_id].options) == 1 else "possible"
        return f"The only one {only} on this vehicle."

    return _fitting(opening, "With any other option here no build", compiled, conflict, reached)


def contradiction_sentence(
    compiled: Compiled, conflict: Conflict, reached: Sequence[LimitReached] = ()
) -> str:
    """Say why choices already made cannot stand together."""

    def opening(most: int) -> str:
        names = _choices_named(compiled, conflict.picks, most)
        return f"{names} cannot stand together." if names else "No build is possible."

    builds = "No build with these choices" if conflict.picks else "No build"
    return _fitting(opening, builds, compiled, conflict, reached)


def _choices_named(compiled: Compiled, picks: Sequence[tuple[str, str]], most: int) -> str:
    return _first_of([option_name(compiled, *pair) for pair in picks], most, "choice")


def _first_of(names: Sequence[str], most: int, kind: str) -> str:
    """List the first of some names and count the rest."""
    more = len(names) - most
    return listed([*names[:most], _counted(more, kind)] if more > 0 else names)


def _counted(more: int, kind: str) -> str:
    return f"{more} more {kind if more == 1 else kind + 's'}"


def _fitting(
    opening: Callable[[int], str],
    builds: str,
    compiled: Compiled,
    conflict: Conflict,
    reached: Sequence[LimitReached],
) -> str:
    """Say as much of a reason as people read: first fewer names, then less of why."""
    said = ""
    for most_said in range(MOST_SAID, -1, -1):
        for most_named in range(MOST_NAMED, 0, -1):
            because = _because(compiled, conflict, reached, builds, (most_said, most_named))
            said = " ".join([opening(most_named), *because])
            is_short = len(said) <= MOST_CHARACTERS
            if is_short and len(SENTENCE_END.findall(said)) <= MOST_SENTENCES:
                return said
    return said


def _because(
    compiled: Compiled,
    conflict: Conflict,
    reached: Sequence[LimitReached],
    builds: str,
    most: tuple[int, int],
) -> list[str]:
    """Say what speaks against it; `most` are how much to say in full and how many to name."""
    most_said, most_named = most
    by_id = {forms.limit.id: forms for forms in compiled.limits}
    limits = [by_id[name] for name in conflict.limits]
    words = {rule.id: rule.because for rule in compiled.rules}
    rest = [_ended(words[name]) for name in conflict.implications]
    if len(limits) > 1:
        labels = list(dict.fromkeys(forms.limit.label for forms in limits))
        together = _first_of(labels, most_named, "limit")
        said = [f"{builds} keeps all of these at once: {together}."]
        said += [_ended(limits[0].limit.because)][:most_said]
    elif limits:
        said = _limit_words(limits[0], reached[0] if reached else None, most_said)
    else:
        said = []
    also = max(most_said - len(said), 0 if said else 1)
    left_out = len(rest) - also
    said += rest[:also]
    if left_out > 0:
        have = "has" if left_out == 1 else "have"
        said[-1] = f"{said[-1][:-1]}; {_counted(left_out, 'rule')} {have} a part in it."
    return said


def _limit_words(forms: LimitForms, reached: LimitReached | None, most_said: int) -> list[str]:
    """Say what a limit is for and how near a build can come; with enough to say, what weighs."""
    limit = forms.limit
    because = _ended(limit.because)
    if reached is not None:
        number = f"{limit.label}: {_missed_by(forms, reached, with_items=most_said == MOST_SAID)}."
        return [because, number] if most_said else [number]
    if limit.limit in BARE_MARGINS:
        return [because]
    return [f"{because[:-1]} ({limit.label} must be {bound_words(forms)})."]


def _ended(because: str) -> str:
    """End a sentence of the catalog with one mark, however it was written.

    Examples
    --------
    >>> _ended("Oak is heavy"), _ended("Oak is heavy. "), _ended("Oak sags!")
    ('Oak is heavy.', 'Oak is heavy.', 'Oak sags!')
    """
    said = because.strip().rstrip(".")
    return said if said.endswith(("!", "?")) else f"{said}."


def _missed_by(forms: LimitForms, reached: LimitReached, *, with_items: bool) -> str:
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
    items = listed([f"{label} ({said(share)})" for label, share in reached.heaviest])
    return f"{number}; what {does_most}: {items}" if items and with_items else number


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


def still_open(names: Sequence[str]) -> str:
    """Say which choices are still to be made.

    Examples
    --------
    >>> still_open(["Roof", "Floor"])
    '2 choices are still open: Roof and Floor.'
    """
    told = "1 choice is" if len(names) == 1 else f"{len(names)} choices are"
    return f"{told} still open: {listed(names)}."

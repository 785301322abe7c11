"""The electrical set as the screen shows it: topics of rows, each with its verdict in words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from configurator.app.view_models.words import (
    UNBROKEN_SPACE,
    count,
    rounded,
    source_told,
)
from configurator.app.view_models.worked_figures import check_key
from configurator.build_spec.derivations.explain import Key
from configurator.build_spec.electrical_check import ElectricalCheck, Verdict
from configurator.build_spec.sentences import still_open
from configurator.build_spec.spec import Spec

VERDICT_WORDS: dict[Verdict, str] = {
    "kept": "Kept",
    "beyond": "Beyond the bound",
    "not stated": "Not stated",
    "to measure": "To be measured",
    "told": "For information",
}


@dataclass(frozen=True)
class ElectricalRow:
    """One check."""

    label: str
    value: str
    bound: str
    margin: str
    verdict: Verdict
    verdict_words: str
    how: str
    """The formula with its source; empty where it is that of the row above."""
    worked_out: Key | None
    recorded: str = ""
    """What was measured on the finished vehicle; empty for nothing."""


@dataclass(frozen=True)
class ElectricalTopic:
    """The checks of one part of the set."""

    title: str
    rows: tuple[ElectricalRow, ...]


@dataclass(frozen=True)
class ElectricalPage:
    """The whole set."""

    in_brief: str
    for_a_person: tuple[str, ...]
    """What is beyond a bound or not stated, so that somebody must settle it."""
    topics: tuple[ElectricalTopic, ...]


def electrical_page(checks: Sequence[ElectricalCheck]) -> ElectricalPage:
    """Prepare the checks of a complete build."""
    return ElectricalPage(
        in_brief=_in_brief(checks),
        for_a_person=tuple(
            _for_a_person(check) for check in checks if check.verdict in {"beyond", "not stated"}
        ),
        topics=tuple(
            ElectricalTopic(title, _rows(list(group)))
            for title, group in groupby(checks, key=lambda check: check.topic)
        ),
    )


def why_no_checks(spec: Spec) -> str:
    """Say what keeps the set from being checked; empty when nothing does."""
    names = [group.group_label for group in spec.open_groups]
    if not names:
        return ""
    return f"The electrical set belongs to one finished choice of parts. {still_open(names)}"


def _in_brief(checks: Sequence[ElectricalCheck]) -> str:
    tally = dict.fromkeys(VERDICT_WORDS, 0)
    for check in checks:
        tally[check.verdict] += 1
    return (
        f"{count(tally['kept'], 'bound is', 'bounds are')} kept, {tally['beyond']} not kept; "
        f"{count(tally['not stated'], 'value is', 'values are')} not stated, "
        f"{tally['to measure']} to be measured on the finished vehicle."
    )


def _for_a_person(check: ElectricalCheck) -> str:
    where = f"{check.topic}, {check.label[:1].lower()}{check.label[1:]}"
    if check.verdict == "not stated":
        return f"{where}: not stated. The catalog lacks {check.missing}."
    return (
        f"{where}: {_figure(check, check.value)}, {check.bound_is} {_figure(check, check.bound)}."
    )


def _rows(checks: Sequence[ElectricalCheck]) -> tuple[ElectricalRow, ...]:
    hows = [_how(check) for check in checks]
    return tuple(
        ElectricalRow(
            label=check.label,
            value="—" if check.value is None else _figure(check, check.value),
            bound=f"{check.bound_is} {_figure(check, check.bound)}" if check.bound_is else "",
            margin="" if check.margin is None else _figure(check, check.margin),
            verdict=check.verdict,
            verdict_words=_verdict_words(check),
            recorded=f"On record: {check.recorded}." if check.recorded else "",
            how="" if number and how == hows[number - 1] else how,
            worked_out=check_key(check),
        )
        for number, (check, how) in enumerate(zip(checks, hows, strict=True))
    )


def _verdict_words(check: ElectricalCheck) -> str:
    if not check.recorded:
        return VERDICT_WORDS[check.verdict]
    if check.verdict == "to measure":
        return "Measured, not judged"
    return f"{VERDICT_WORDS[check.verdict]}, as measured"


def _how(check: ElectricalCheck) -> str:
    said = source_told(f"{check.formula[:1].upper()}{check.formula[1:]}. Source: {check.source}.")
    return f"{said} Missing: {check.missing}." if check.missing else said


def _figure(check: ElectricalCheck, value: float | None) -> str:
    if value is None:
        return "not stated"
    return f"{rounded(value, check.decimals)}{UNBROKEN_SPACE}{check.unit}".rstrip()

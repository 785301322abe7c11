"""What was measured on the finished vehicle, beside the checks of the electrical set it answers."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence

from configurator.build_spec.electrical_check import STORED_DECIMALS, ElectricalCheck, Verdict
from configurator.catalog.models.as_built import (
    ComputedBound,
    ComputedName,
    RecordTemplate,
    RecordValue,
)
from configurator.catalog.models.build import MeasuredRecord

CHECKS_OF: Mapping[ComputedName, tuple[str, ...]] = {
    "isolation-kohm": ("isolation-dc", "isolation-joined"),
    "inlet-isolation-kohm": ("isolation-inlet",),
    "bonding-ohm": ("bonding",),
    "pre-charge-seconds": ("pre-charge-time",),
    "pre-charge-within-seconds": ("pre-charge-time",),
    "bleed-seconds": ("bleed-time",),
    "bleed-within-seconds": ("bleed-time",),
}
"""What a record's value is held against → the checks that ask for the same measurement."""

_SCALES = {
    "Ω": {"mΩ": 1e-3, "Ω": 1.0, "kΩ": 1e3, "MΩ": 1e6, "GΩ": 1e9},
    "kΩ": {"Ω": 1e-3, "kΩ": 1.0, "MΩ": 1e3, "GΩ": 1e6},
    "s": {"ms": 1e-3, "s": 1.0, "min": 60.0},
}
_ONE_FIGURE = re.compile(r"(\d{1,3}(?:,\d{3})+|\d+)(\.\d+)? ?([a-zA-Z\u03a9\u2126]+)")


def with_records(
    checks: Sequence[ElectricalCheck],
    records: Iterable[MeasuredRecord],
    templates: Iterable[RecordTemplate],
) -> tuple[ElectricalCheck, ...]:
    """Put what was measured beside the checks; of several records the last one counts.

    Parameters
    ----------
    checks : sequence of ElectricalCheck
        Of a complete build.
    records : iterable of MeasuredRecord
        As kept with the finished vehicle.
    templates : iterable of RecordTemplate
        The catalog's own list of records; what a value is bounded by tells which check it answers.
    """
    by_id = {record.id: record for record in records}
    of_check = {
        check_id: by_id[template.id]
        for template in templates
        if template.id in by_id
        for check_id in checks_answered(template.values)
    }
    return tuple(
        _recorded(check, of_check[check.id]) if check.id in of_check else check for check in checks
    )


def measured_figure(words: str, unit: str) -> float | None:
    """Read a value that is one figure with its unit, in another unit; None for anything else.

    Examples
    --------
    >>> measured_figure("2.4 MΩ", "kΩ"), measured_figure("1,200 ms", "s")
    (2400.0, 1.2)
    >>> measured_figure("2.4 MΩ at 500 V", "kΩ") is None
    True
    """
    found = _ONE_FIGURE.fullmatch(words.strip())
    if found is None:
        return None
    written = found[3].replace("\u2126", "Ω")
    scale = _SCALES.get(unit, {}).get(written)
    if scale is None:
        return None
    return round(float(found[1].replace(",", "") + (found[2] or "")) * scale, 9)


def checks_answered(values: Iterable[RecordValue]) -> Iterator[str]:
    """List the checks of the electrical set that ask for what a record measures.

    Examples
    --------
    >>> list(checks_answered([RecordValue(id="worst", label="Worst", at_most="bonding-ohm")]))
    ['bonding']
    """
    for value in values:
        for bound in (value.at_least, value.at_most):
            name = bound.of if isinstance(bound, ComputedBound) else bound
            if isinstance(name, str):
                yield from CHECKS_OF.get(name, ())


def _recorded(check: ElectricalCheck, record: MeasuredRecord) -> ElectricalCheck:
    measured = measured_figure(record.value, check.unit)
    tool = f" with {record.instrument}" if record.instrument else ""
    when = f"{record.measured_on.day} {record.measured_on:%B %Y}"
    said = f"{record.value}, measured on {when} by {record.by}{tool}{_computed(check)}"
    update: dict[str, object] = {"recorded": said, "verdict": _verdict(check, record, measured)}
    if measured is not None and check.bound is not None:
        is_most = check.bound_is == "at most"
        margin = check.bound - measured if is_most else measured - check.bound
        update |= {
            "value": round(measured, STORED_DECIMALS),
            "decimals": max(check.decimals, _decimals(measured)),
            "margin": round(margin, STORED_DECIMALS),
        }
    return check.model_copy(update=update)


def _computed(check: ElectricalCheck) -> str:
    if check.value is None:
        return ""
    return f"; computed {check.value:,.{check.decimals}f} {check.unit}".rstrip()


def _verdict(check: ElectricalCheck, record: MeasuredRecord, measured: float | None) -> Verdict:
    """Judge a figure by the bound; where it is none, believe who held it against its limits."""
    is_beyond = record.in_tolerance is False
    if measured is not None and check.bound is not None:
        too_much = check.bound_is == "at most" and measured > check.bound
        too_little = check.bound_is == "at least" and measured < check.bound
        return "beyond" if too_much or too_little or is_beyond else "kept"
    if is_beyond:
        return "beyond"
    return "kept" if record.in_tolerance and check.verdict == "to measure" else check.verdict


def _decimals(value: float) -> int:
    """Tell how many decimals keep a small figure from reading as nothing."""
    if value >= 1:
        return 0
    return 2 if value >= 0.1 else STORED_DECIMALS

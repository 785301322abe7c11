"""Findings about the drive: what it bears for a while only, and where the tyres slip first."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from configurator.build_spec.performance_result import PerformanceLine
from configurator.build_spec.spec import Finding


def performance_findings(lines: Sequence[PerformanceLine]) -> Iterator[Finding]:
    """Find what the driver must know about the drive of a complete build."""
    for line in lines:
        if line.margin is None or (line.margin >= 0 and not line.may_not_hold):
            continue
        if line.topic == "Fast road":
            yield _grows_warm(line)
        elif line.topic == "Restart on a hill":
            yield _slips(line)


def _grows_warm(line: PerformanceLine) -> Finding:
    return Finding(
        code="F051",
        severity="notes",
        subject=line.id,
        sentence=f"{line.label} takes {line.value:.1f} kW at the motor. {line.note}",
        value=line.value,
        bound=round((line.value or 0.0) + (line.margin or 0.0), 3),
        unit=line.unit,
        source=line.source,
        remedy="Tell the driver, or choose a stronger drive or battery if fast roads matter.",
    )


def _slips(line: PerformanceLine) -> Finding:
    # Rounded down as the line is: the slope that is told must still be safe.
    held_percent = max(math.floor(line.value or 0.0), 0)
    return Finding(
        code="F052",
        severity="warns",
        subject=line.id,
        sentence=(
            f"{line.label}: on a wet road the driven tyres slip above {held_percent} %, before "
            f"the drive gives out. {line.note} A vehicle that slips on a slope rolls back."
        ),
        value=line.value,
        bound=round((line.value or 0.0) - (line.margin or 0.0), 3),
        unit=line.unit,
        source=line.source,
        remedy=(
            "Put load over the driven axle within its limit, tow less, or tell the driver to keep "
            "off wet slips."
        ),
    )

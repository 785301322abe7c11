"""Remarks on charging sources: what a control pilot cannot say."""

from __future__ import annotations

from collections.abc import Iterator

from configurator.catalog.models.catalog import Catalog

PILOT_CURRENTS_A = (6.0, 80.0)
"""What a control pilot can signal in each phase [A]. Source: IEC 61851-1, annex A."""


def sources_beyond_the_pilot(
    catalog: Catalog,
) -> Iterator[tuple[str, tuple[str, str], str, str]]:
    """Yield sources of alternating current that no control pilot can signal."""
    least_a, greatest_a = PILOT_CURRENTS_A
    for source in catalog.charging_sources:
        if source.supply == "ac" and not least_a <= source.current_a <= greatest_a:
            what = (
                f'charging source "{source.id}" offers {source.current_a:g} A; a control pilot can '
                f"signal {least_a:g} to {greatest_a:g} A, and the test sheet leaves it out"
            )
            remedy = "Correct current_a, in amperes of each phase, or take the source out."
            yield "W014", ("charging-source", source.id), what, remedy

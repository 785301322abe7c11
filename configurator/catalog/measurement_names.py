"""Names in what was measured on the road, checked against the catalog."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from configurator.catalog.did_you_mean import did_you_mean
from configurator.catalog.document import shown
from configurator.catalog.model_faults import RawEntry
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.shelf import list_at, text_at
from configurator.errors import Fault


def measurement_name_faults(
    raw: RawEntry, build: Mapping[str, object], catalog: Catalog
) -> Iterator[Fault]:
    """Find measured trips that name a driving case which the catalog does not have.

    Parameters
    ----------
    raw, build, catalog
        As for `build_name_faults`.

    Yields
    ------
    Fault
        Code B017.
    """
    known = [case.id for case in catalog.driving_cases]
    for number, trip in enumerate(list_at(build, "measurements", "trips")):
        case = text_at(trip, "case")
        if case is not None and case not in known:
            what = f"trip {number + 1} was like {shown(case)}; the catalog has no such driving case"
            where = raw.where("measurements", "trips", number, "case")
            yield Fault("B017", where, what, did_you_mean(case, known))

"""Whether the day of a build file names what there is."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from configurator.catalog.did_you_mean import did_you_mean
from configurator.catalog.document import shown
from configurator.catalog.model_faults import RawEntry
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.shelf import text_at
from configurator.errors import Fault


def day_name_faults(
    raw: RawEntry, build: Mapping[str, object], catalog: Catalog
) -> Iterator[Fault]:
    """Yield a fault if the customer's day charges at a place that the catalog does not have.

    Parameters
    ----------
    raw, build, catalog
        As for `build_name_faults`.

    Yields
    ------
    Fault
        Code B016, at most once.
    """
    source = text_at(build.get("day"), "charging_source")
    known = [charging_source.id for charging_source in catalog.charging_sources]
    if source is not None and source not in known:
        what = f"day.charging_source is {shown(source)}; the catalog has no such charging source"
        yield Fault("B016", raw.where("day", "charging_source"), what, did_you_mean(source, known))

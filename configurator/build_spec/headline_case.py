"""The driving case that stands for winter wherever one figure must."""

from __future__ import annotations

from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.workshop import DrivingCase


def harder_headline_case(catalog: Catalog) -> DrivingCase:
    """Find the coldest of the headline cases, the first of several.

    Parameters
    ----------
    catalog : Catalog
        Its workshop names at least one headline case.
    """
    cases = {case.id: case for case in catalog.driving_cases}
    headlines = [cases[case_id] for case_id in catalog.workshop.headline_cases]
    return min(headlines, key=lambda case: case.temperature_c)

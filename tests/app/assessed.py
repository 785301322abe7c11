"""Assess the tiny catalog's float with some choices."""

from __future__ import annotations

from datetime import date

from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import assess
from configurator.build_spec.standing import Assessment, GroupState
from configurator.catalog.load import load_catalog
from configurator.catalog.models.build import BuildInput, Customer
from tests.app.screens import TINY

CATALOG = load_catalog(TINY)
ENGINES = Engines()


def assessed(**choices: str) -> Assessment:
    """Assess choices of the float, every reason included."""
    build = BuildInput(
        reference="B-0001",
        customer=Customer(name="Ann Example"),
        vehicle="clover-float",
        priced_on=date(2026, 2, 2),
        choices=choices,
    )
    return assess(CATALOG, build, ENGINES, [part.id for part in CATALOG.workshop.talk])


def group_of(assessment: Assessment, group_id: str) -> GroupState:
    """Find a group of an assessment."""
    return next(group for group in assessment.groups if group.group_id == group_id)

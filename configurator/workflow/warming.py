"""Ask the hardest questions before a customer does: every vehicle with nothing chosen yet."""

from __future__ import annotations

from datetime import date

from configurator.build_spec.pipeline import outline, stand
from configurator.catalog.models.build import BuildInput, Customer
from configurator.workflow.premises import Premises


def warm_engines(premises: Premises, today: date) -> None:
    """Compute what the talk of each vehicle opens with, so that the first one is quick too.

    Parameters
    ----------
    premises : Premises
        Catalog and engines; nothing is written to the record.
    today : date
        The day prices are made.
    """
    for vehicle in premises.catalog.vehicles:
        nobody = BuildInput(
            reference="B-0000",
            customer=Customer(name="Nobody yet"),
            vehicle=vehicle.id,
            priced_on=today,
        )
        stand(premises.catalog, nobody, premises.engines)
        outline(premises.catalog, nobody, premises.engines)

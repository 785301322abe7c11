"""The whole catalog of a workshop, read once and never changed."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

from pydantic import Field

from configurator.catalog.models.as_built import RecordTemplate
from configurator.catalog.models.charging_source import ChargingSource
from configurator.catalog.models.component import Component
from configurator.catalog.models.data import Data, Identifier
from configurator.catalog.models.group import Group
from configurator.catalog.models.rule import CountryRule, Limit, Rule
from configurator.catalog.models.text import Text
from configurator.catalog.models.vehicle import Vehicle
from configurator.catalog.models.workshop import DrivingCase, Stage, SurveyTemplate, Workshop


class DrivingCycle(Data):
    """Speed over time, one sample a second [km/h]."""

    id: Identifier
    label: str
    source: str
    speed_km_h: tuple[float, ...] = Field(min_length=2)


class Catalog(Data):
    """Everything a workshop edits, in one frozen object."""

    workshop: Workshop
    stages: tuple[Stage, ...]
    vehicles: tuple[Vehicle, ...]
    groups: tuple[Group, ...]
    """In the order of the talk."""
    components: tuple[Component, ...]
    charging_sources: tuple[ChargingSource, ...]
    driving_cases: tuple[DrivingCase, ...]
    cycles: tuple[DrivingCycle, ...]
    rules: tuple[Rule, ...]
    limits: tuple[Limit, ...]
    survey_templates: tuple[SurveyTemplate, ...]
    country_rules: tuple[CountryRule, ...]
    texts: tuple[Text, ...]
    as_built: tuple[RecordTemplate, ...] = ()
    """What is measured on finished vehicles; beside it the weighbridge and serial numbers."""
    sha256: str
    """Of the files it was read from."""

    @cached_property
    def vehicle_by_id(self) -> dict[str, Vehicle]:
        """Vehicles by id."""
        return {vehicle.id: vehicle for vehicle in self.vehicles}

    @cached_property
    def group_by_id(self) -> dict[str, Group]:
        """Option groups by id."""
        return {group.id: group for group in self.groups}

    @cached_property
    def component_by_id(self) -> dict[str, Component]:
        """Components by id."""
        return {component.id: component for component in self.components}

    @cached_property
    def stage_order(self) -> dict[str, int]:
        """Position of each stage in the build, counted from 0."""
        return {stage.id: number for number, stage in enumerate(self.stages)}

    def groups_for(self, vehicle_id: str) -> Sequence[Group]:
        """Return a vehicle's groups in the order of the talk, with only what it is offered."""
        return self._groups_by_vehicle[vehicle_id]

    @cached_property
    def _groups_by_vehicle(self) -> dict[str, tuple[Group, ...]]:
        return {
            vehicle.id: tuple(
                offered
                for group in self.groups
                if group.vehicles is None or vehicle.id in group.vehicles
                if (offered := _offered(group, vehicle.id)).options
            )
            for vehicle in self.vehicles
        }


def _offered(group: Group, vehicle_id: str) -> Group:
    options = tuple(
        option
        for option in group.options
        if option.vehicles is None or vehicle_id in option.vehicles
    )
    house_choice = group.house_choice_on.get(vehicle_id, group.house_choice)
    return group.model_copy(update={"options": options, "house_choice": house_choice})

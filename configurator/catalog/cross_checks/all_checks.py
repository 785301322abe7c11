"""Every cross check, each its own function; the order does not matter."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from configurator.catalog.cross_checks.component_checks import (
    drag_faults,
    power_faults,
    used_pack_faults,
    voltage_faults,
)
from configurator.catalog.cross_checks.limit_checks import limit_faults
from configurator.catalog.cross_checks.main_circuit_checks import (
    low_voltage_faults,
    main_circuit_faults,
)
from configurator.catalog.cross_checks.option_checks import (
    group_faults,
    house_choice_faults,
    option_faults,
)
from configurator.catalog.cross_checks.placeholder_checks import placeholder_faults
from configurator.catalog.cross_checks.record_checks import record_faults
from configurator.catalog.cross_checks.rule_chains import chain_faults
from configurator.catalog.cross_checks.rule_checks import rule_faults
from configurator.catalog.cross_checks.text_checks import text_faults
from configurator.catalog.cross_checks.unique_ids import repeated_ids
from configurator.catalog.cross_checks.vehicle_checks import (
    base_line_faults,
    measure_faults,
    vehicle_faults,
)
from configurator.catalog.cross_checks.workshop_checks import (
    charging_source_faults,
    country_rule_faults,
    driving_case_faults,
    stage_faults,
    survey_faults,
    workshop_faults,
)
from configurator.catalog.draft import Draft
from configurator.errors import Fault

CHECKS: tuple[Callable[[Draft], Iterator[Fault]], ...] = (
    repeated_ids,
    workshop_faults,
    stage_faults,
    driving_case_faults,
    charging_source_faults,
    survey_faults,
    country_rule_faults,
    vehicle_faults,
    base_line_faults,
    measure_faults,
    group_faults,
    house_choice_faults,
    option_faults,
    rule_faults,
    chain_faults,
    limit_faults,
    voltage_faults,
    power_faults,
    used_pack_faults,
    drag_faults,
    main_circuit_faults,
    low_voltage_faults,
    text_faults,
    placeholder_faults,
    record_faults,
)


def cross_check_faults(draft: Draft) -> tuple[Fault, ...]:
    """Find every fault between the entries of a catalog.

    Parameters
    ----------
    draft : Draft
        The catalog as it was read.

    Returns
    -------
    tuple of Fault
        Empty when everything fits together.
    """
    return tuple(fault for check in CHECKS for fault in check(draft))

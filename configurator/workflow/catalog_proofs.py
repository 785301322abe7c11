"""What the engine proves about a catalog: what no complete build can have."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.engines import Engines
from configurator.build_spec.sentences import conflict_sentence, contradiction_sentence
from configurator.catalog.models.build import BuildInput, Customer
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.vehicle import Vehicle
from configurator.errors import CatalogError, Fault

Lines = Mapping[tuple[str, str], str]
"""(kind, id) → file:line."""


@dataclass(frozen=True)
class Proofs:
    """What was proved."""

    faults: tuple[Fault, ...]
    """The catalog cannot be worked with."""
    warnings: tuple[Fault, ...]
    """It can, yet something in it is of no use."""


def prove(catalog: Catalog, lines: Lines, engines: Engines) -> Proofs:
    """Ask the engine about every vehicle of a catalog.

    Parameters
    ----------
    catalog : Catalog
        Without faults in its files.
    lines : mapping
        Where its entries stand.
    engines : Engines
        Compiled builds.

    Returns
    -------
    Proofs
        Vehicles without any complete build are faults; options that no complete build of a vehicle
        can have, and house choices that do not go together, are warnings.
    """
    faults: list[Fault] = []
    warnings: list[Fault] = []
    for vehicle in catalog.vehicles:
        try:
            compiled = engines.compiled(catalog, _empty_build(catalog, vehicle))
        except CatalogError as error:
            faults.extend(error.faults)
            continue
        if compiled.engine.is_possible({}):
            warnings.extend(_useless_options(compiled, lines))
            warnings.extend(_quarrelling_house_choices(compiled, lines))
        else:
            faults.append(_no_build(compiled, lines))
    return Proofs(tuple(dict.fromkeys(faults)), tuple(warnings))


def _empty_build(catalog: Catalog, vehicle: Vehicle) -> BuildInput:
    return BuildInput(
        reference="B-0000",
        customer=Customer(name="Nobody"),
        vehicle=vehicle.id,
        priced_on=max(vat.valid_from for vat in catalog.workshop.vat),
    )


def _no_build(compiled: Compiled, lines: Lines) -> Fault:
    vehicle = compiled.offer.vehicle
    reason = contradiction_sentence(compiled, compiled.engine.conflict({})).rstrip(".")
    return Fault(
        "P020",
        lines.get(("vehicle", vehicle.id), vehicle.id),
        f"{vehicle.label} has no complete build that keeps every rule and limit: {reason}",
        "Loosen one of the rules or limits named, or add options that keep them.",
    )


def _useless_options(compiled: Compiled, lines: Lines) -> Iterator[Fault]:
    for group_id, options in compiled.engine.availability({}).items():
        for option_id in (option for option, possible in options.items() if not possible):
            yield _useless(compiled, lines, group_id, option_id)


def _useless(compiled: Compiled, lines: Lines, group_id: str, option_id: str) -> Fault:
    label = compiled.offer.option_by_pair[group_id, option_id].label
    conflict = compiled.engine.conflict({group_id: option_id})
    reason = conflict_sentence(compiled, conflict, group_id, option_id).rstrip(".")
    return Fault(
        "P021",
        lines.get(("option", f"{group_id}/{option_id}"), f"{group_id}/{option_id}"),
        f"no complete build of {compiled.offer.vehicle.label} can have {label}: {reason}",
        "Loosen a rule or limit, or state the vehicles the option is offered for.",
    )


def _quarrelling_house_choices(compiled: Compiled, lines: Lines) -> Iterator[Fault]:
    house = compiled.offer.house_choices()
    if compiled.engine.is_possible(house):
        return
    conflict = compiled.engine.conflict(house)
    group_id = conflict.picks[0][0]
    reason = contradiction_sentence(compiled, conflict).rstrip(".")
    yield Fault(
        "P022",
        lines.get(("group", group_id), group_id),
        f"the house choices for {compiled.offer.vehicle.label} do not go together: {reason}",
        "Take another house choice in one of these groups.",
    )

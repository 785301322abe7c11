"""Whether a build names what the catalog has and what its vehicle is offered."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from typing import NamedTuple

from configurator.catalog.day_names import day_name_faults
from configurator.catalog.did_you_mean import did_you_mean
from configurator.catalog.document import shown
from configurator.catalog.measurement_names import measurement_name_faults
from configurator.catalog.model_faults import RawEntry
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.shelf import list_at, text_at
from configurator.catalog.wish_names import wish_name_faults
from configurator.errors import Fault


def build_name_faults(
    raw: RawEntry, build: Mapping[str, object], catalog: Catalog
) -> Iterator[Fault]:
    """Yield every name of a build that the catalog does not know, whatever else is wrong in it.

    Parameters
    ----------
    raw : RawEntry
        The build with its lines.
    build : mapping
        The build as it was read.
    catalog : Catalog
        What it chooses from.

    Yields
    ------
    Fault
        Codes B006 to B011 and B013 to B017.
    """
    vehicle = text_at(build, "vehicle")
    if vehicle is not None and vehicle not in catalog.vehicle_by_id:
        what = f"vehicle is {shown(vehicle)}; the catalog has none of that id"
        remedy = did_you_mean(vehicle, catalog.vehicle_by_id)
        yield Fault("B006", raw.where("vehicle"), what, remedy)
        vehicle = None
    choices = build.get("choices")
    for group, option in choices.items() if isinstance(choices, Mapping) else ():
        if isinstance(option, str):
            at = _At(raw.where("choices", group), "choices", f"choices.{group}")
            yield from _choice_faults(at, catalog, vehicle, group, option)
    yield from _preference_faults(raw, build, catalog, vehicle)
    yield from _survey_faults(raw, build, catalog, vehicle)
    yield from wish_name_faults(raw, build, catalog)
    yield from day_name_faults(raw, build, catalog)
    yield from measurement_name_faults(raw, build, catalog)


class _At(NamedTuple):
    """Where an option is named, and what to call the place."""

    where: str
    title: str
    option_title: str


def _preference_faults(
    raw: RawEntry, build: Mapping[str, object], catalog: Catalog, vehicle: str | None
) -> Iterator[Fault]:
    for number, line in enumerate(list_at(build, "preferences")):
        group, option = text_at(line, "group"), text_at(line, "option")
        if group is not None and option is not None:
            title = f"preference {number + 1}"
            at = _At(raw.where("preferences", number, "group"), title, title)
            yield from _choice_faults(at, catalog, vehicle, group, option)


def _choice_faults(
    at: _At, catalog: Catalog, vehicle: str | None, group: str, option: str
) -> Iterator[Fault]:
    if group not in catalog.group_by_id:
        what = f"{at.title} names the group {shown(group)}; the catalog has none of that id"
        yield Fault("B007", at.where, what, did_you_mean(group, catalog.group_by_id))
        return
    options = [known.id for known in catalog.group_by_id[group].options]
    if option not in options:
        what = f"{at.option_title} is {shown(option)}; the group has no such option"
        yield Fault("B008", at.where, what, did_you_mean(option, options))
        return
    if vehicle is None:
        return
    offered = {known.id: [o.id for o in known.options] for known in catalog.groups_for(vehicle)}
    if option not in offered.get(group, ()):
        what = f'{at.option_title} is "{option}", which is not offered for "{vehicle}"'
        yield Fault("B009", at.where, what, _instead(offered.get(group, ())))


def _instead(options: Collection[str]) -> str:
    if not options:
        return "Take the line out: the vehicle has no such group."
    return f"Choose one of: {', '.join(options)}."


def _is_from_second(line: object) -> bool:
    return isinstance(line, Mapping) and line.get("from_second_donor") is True


def _survey_faults(
    raw: RawEntry, build: Mapping[str, object], catalog: Catalog, vehicle: str | None
) -> Iterator[Fault]:
    if vehicle is None:
        return
    template = catalog.vehicle_by_id[vehicle].survey_template
    known = [
        part.id
        for survey_template in catalog.survey_templates
        if survey_template.id == template
        for part in survey_template.parts
    ]
    seen: set[str] = set()
    for number, line in enumerate(list_at(build, "survey")):
        part, where = text_at(line, "part"), raw.where("survey", number, "part")
        if part is None:
            continue
        if part not in known:
            what = f"survey names the part {shown(part)}; the survey of this vehicle has none such"
            yield Fault("B010", where, what, did_you_mean(part, known))
        elif _is_from_second(line) and not isinstance(build.get("second_donor"), Mapping):
            what = f"survey takes the part {shown(part)} from a second donor; none is told"
            remedy = "Describe it under second_donor, or take the line out."
            yield Fault("B018", where, what, remedy)
        elif part in seen:
            what = f"survey names the part {shown(part)} twice; which verdict holds is not clear"
            yield Fault("B011", where, what, "Keep one of the two lines.")
        seen.add(part)

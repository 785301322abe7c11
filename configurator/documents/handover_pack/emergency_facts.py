"""What the spec itself knows for each section of the emergency sheet, computed or weighed."""

from __future__ import annotations

from collections.abc import Iterable

from reportlab.platypus import Flowable

from configurator.build_spec.spec import Spec
from configurator.catalog.models.component import Pack
from configurator.catalog.models.vehicle import Emblem, Place
from configurator.documents.figures import number
from configurator.documents.paragraphs import bullets
from configurator.documents.styles import CELL
from configurator.drawings.emblem import WORDS


def identification_facts(spec: Spec) -> list[Flowable]:
    """Say which vehicle this is and how to tell that it is electric."""
    vehicle, build = spec.vehicle, spec.build
    mark = build.donor.identity_mark
    return _facts(
        f"{vehicle.label}, {vehicle.kind}, {vehicle.year}; build {build.reference}.",
        f"Identity mark of the donor: {mark}." if mark else "",
        "Looks like the original with an engine, but is battery-electric. Silence does not mean "
        "that it is switched off.",
        _battery_words(spec),
        f"Length {number(vehicle.length_m, 2)} m, width {number(vehicle.width_m, 2)} m, kerb mass "
        f"{_kerb_words(spec)}.",
    )


def immobilise_facts(spec: Spec) -> list[Flowable]:
    """Name driven axle and lifting points."""
    places = spec.vehicle.places
    lifting = [_where(places[point]) for point in spec.vehicle.lifting_points if point in places]
    return _facts(
        f"Chock the wheels; the {spec.vehicle.driven_axle} axle is driven.",
        f"Lift only at: {'; '.join(lifting)}." if lifting else "No lifting point is stated.",
        "Keep jacks, airbags and stands away from the battery.",
    )


def disable_facts(spec: Spec) -> list[Flowable]:
    """Say what isolates the vehicle, and where it is."""
    return _facts(
        "Switch off, take the key out and keep it away from the vehicle.",
        *_emblem_places(spec, ("service-disconnect", "low-voltage-battery", "charging-inlet")),
        "After isolating, wait the maker's time before anything is touched, commonly ten minutes "
        "or more. The battery itself stays live.",
    )


def access_facts(spec: Spec) -> list[Flowable]:
    """Say where not to cut."""
    return _facts(
        "Cut no orange cable and no part marked in the views.",
        *_emblem_places(spec, ("high-voltage-cable", "gas-strut")),
    )


def stored_energy_facts(spec: Spec) -> list[Flowable]:
    """List battery and other stores with their places."""
    return _facts(
        _battery_words(spec),
        *_emblem_places(spec, ("traction-battery", "low-voltage-battery", "gas-strut")),
    )


def fire_facts(spec: Spec) -> list[Flowable]:
    """Tell of the battery that may burn."""
    pack = spec.component("pack")
    chemistry = f"Lithium-ion cells, {pack.chemistry}. " if isinstance(pack, Pack) else ""
    return _facts(
        f"{chemistry}A burning battery gives off poisonous and flammable gas and can light again "
        "hours or days later."
    )


def submersion_facts(spec: Spec) -> list[Flowable]:
    """Say what water does not change."""
    del spec
    return _facts(
        "Treat the vehicle as live in and after water. Water on its own does not isolate the "
        "battery; a fire may follow after recovery."
    )


def towing_facts(spec: Spec) -> list[Flowable]:
    """Say: driven wheels off the ground, where to pull, where to park."""
    place = spec.vehicle.places.get(spec.vehicle.tow_eye)
    return _facts(
        f"Recover it with the {spec.vehicle.driven_axle} wheels, which are driven, off the ground.",
        f"Tow eye: {_where(place)}." if place else "",
        "Park a damaged vehicle in the open, 15 m or more clear of buildings and other vehicles.",
    )


def additional_facts(spec: Spec) -> list[Flowable]:
    """Say whom to call, and what the sheet is worth."""
    return _facts(
        f"Help from the workshop: {spec.workshop.emergency_contact}",
        "Places and figures on this sheet are computed from the spec unless they say weighed.",
    )


def _kerb_words(spec: Spec) -> str:
    weighed_kg = spec.weights.measured_kerb_kg
    if weighed_kg is not None:
        return f"{number(weighed_kg)} kg (weighed, without driver)"
    return f"about {number(spec.weights.kerb_high_kg)} kg (computed)"


def _battery_words(spec: Spec) -> str:
    pack = spec.component("pack")
    if not isinstance(pack, Pack):
        return "No drive battery is stated."
    return (
        f"Drive battery: {pack.chemistry}, {number(pack.capacity_kwh, 1)} kWh, up to "
        f"{number(pack.full_voltage_v)} V direct voltage (computed)."
    )


def _emblem_places(spec: Spec, emblems: Iterable[Emblem]) -> list[str]:
    said = (
        f"{WORDS[emblem]}: {line.place_label}."
        for emblem in emblems
        for line in spec.ledger
        if line.emblem == emblem and line.mass_kg > 0
    )
    # Two parts may share a place, such as two inlets behind one flap.
    return list(dict.fromkeys(said))


def _where(place: Place) -> str:
    along = "behind" if place.x_m >= 0 else "ahead of"
    side = "" if place.y_m == 0 else f", {'right' if place.y_m > 0 else 'left'} side"
    return f"{place.label} ({number(abs(place.x_m), 2)} m {along} the front axle{side})"


def _facts(*sentences: str) -> list[Flowable]:
    return list(bullets([sentence for sentence in sentences if sentence], CELL))

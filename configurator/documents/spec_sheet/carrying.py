"""What the vehicle may carry: beside the driver, on the roof, on the tow ball."""

from __future__ import annotations

from reportlab.platypus import Flowable

from configurator.build_spec.spec import Spec
from configurator.catalog.models.rule import FactName
from configurator.documents.figures import number, span
from configurator.documents.tables import pairs_table


def carrying_limits(spec: Spec) -> list[Flowable]:
    """Show the limits of what is carried, as far as they are known."""
    vehicle = spec.vehicle
    rows = (
        ("May carry beside the driver", _payload(spec)),
        ("On the roof", _limit(spec, "roof_load_kg", vehicle.roof_load_limit_kg)),
        ("On the tow ball", _nose_weight(spec)),
    )
    told = [(label, words) for label, words in rows if words]
    return [pairs_table(told)] if told else []


def _payload(spec: Spec) -> str:
    carrying = spec.weights.carrying
    if carrying is None:
        return ""
    return (
        f"{number(carrying.payload_kg)} ± {number(2 * carrying.payload_sigma_kg)} kg, seats first, "
        f"then {carrying.place_label.lower()}; what ends it is {carrying.limited_by}"
    )


def _nose_weight(spec: Spec) -> str:
    """Say it only where something presses on a ball, or can still come to."""
    fact = spec.fact("nose_weight_kg")
    if fact is None or fact.high == 0:
        return ""
    return _limit(spec, "nose_weight_kg", spec.vehicle.tow_ball_limit_kg)


def _limit(spec: Spec, name: FactName, limit_kg: float | None) -> str:
    if limit_kg is None:
        return ""
    fact = spec.fact(name)
    most = f"at most {number(limit_kg)} kg"
    if fact is None:
        return most
    return f"{most}; {span(fact.low, fact.high, unit='kg')} counted in the laden mass"

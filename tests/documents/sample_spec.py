"""Specs made by hand, plausible enough to look at, for the tests of the documents."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

from configurator.build_spec.spec import Spec

PARTS = ("body", "inside", "drive", "road")

CHOICES = (
    ("colour", "Colour", "body", "Harbour grey over chalk", "customer"),
    ("roof", "Roof", "body", "Folding fabric", "customer"),
    ("bumpers", "Bumpers", "body", "Painted steel", "house"),
    ("rack", "Roof rack", "body", "None", "follows"),
    ("floor", "Floor", "inside", "Cork tile", "customer"),
    ("seats", "Seats", "inside", "Five, wool cloth", "customer"),
    ("lighting", "Lighting", "inside", "Warm strip lamps", "house"),
    ("sound", "Sound", "inside", "Two speakers", "house"),
    ("battery", "Battery", "drive", "42 kWh of used modules", "customer"),
    ("motor", "Motor", "drive", "80 kW", "house"),
    ("gear", "Reduction", "drive", "Single speed", "follows"),
    ("charger", "Charger", "drive", "11 kW, three phase", "customer"),
    ("dc", "Rapid charging", "drive", "Combined inlet, 50 kW", "customer"),
    ("heater", "Heater", "drive", "Heat pump", "customer"),
    ("tyres", "Tyres", "road", "185 R14 C 102", "house"),
    ("wheels", "Wheels", "road", "Steel, painted", "house"),
    ("brakes", "Brakes", "road", "Front discs", "customer"),
    ("towing", "Towing", "road", "No tow ball", "house"),
)

SECTIONS = (
    "how-to-use", "safety", "weights", "controls", "range", "charging", "care", "battery",
    "high-voltage", "emergency-identification", "emergency-immobilise", "emergency-disable",
    "emergency-access", "emergency-stored-energy", "emergency-fire", "emergency-submersion",
    "emergency-towing", "emergency-additional", "faults", "service", "certificates", "warranty",
    "end-of-life", "handover",
)  # fmt: skip

SOURCE = "common practice, no source"

BODY = """Do this **before** the first drive of a day:

1. Walk round the vehicle and look under it.
2. Press the brake pedal; it must stay *firm*.
3. Read the warning lamps with `POWER` on.

- Water on the floor: find where it comes from.
- A smell of burning: leave the vehicle, call for help.

| Lamp | Meaning |
|---|---|
| amber | reduced power |
| red | stop safely |

Ask the workshop when in doubt."""


def sample_spec(**changes: Any) -> Spec:
    """Make a complete spec; `changes` replace top-level fields."""
    return Spec.model_validate({**spec_data(), **changes})


def open_spec() -> Spec:
    """Make a spec with two groups open."""
    data = spec_data()
    data["is_complete"] = False
    data["choices"] = [c for c in data["choices"] if c["group_id"] not in {"floor", "towing"}]
    data["open_groups"] = [
        _open_group("floor", "Floor", "inside", "Dry build", date(2027, 2, 12)),
        _open_group("towing", "Towing", "road", "Final assembly", date(2027, 4, 1)),
    ]
    lines = [line for line in data["price"]["lines"] if line["id"] not in {"floor", "towing"}]
    decided = sum((line["amount_gbp"] for line in lines), Decimal(0))
    data["price"] |= {
        "lines": lines,
        "decided_gbp": decided,
        "total_low_gbp": decided + Decimal("310.00"),
        "total_high_gbp": decided + Decimal("2180.50"),
        "vat_included_low_gbp": Decimal("7700.00"),
        "vat_included_high_gbp": Decimal("8010.00"),
        "payments": [],
    }
    data["weights"]["kerb_high_kg"] += 60
    data["ranges"] = [
        {**line, "high_km": line["high_km"] + 6, "mid_km": None, "consumption_wh_per_km": None}
        for line in data["ranges"]
    ]
    return Spec.model_validate(data)


def as_built_spec() -> Spec:
    """Make a spec whose vehicle was weighed and measured."""
    data = spec_data()
    data["build"]["as_built"] = {
        "front_axle_kg": 742.0,
        "rear_axle_kg": 811.0,
        "pack_capacity_kwh": 40.6,
        "serial_numbers": {"pack": "PK-0042-7", "motor": "M-88-1031"},
        "records": [
            {
                "id": "isolation",
                "label": "Isolation resistance, battery to chassis",
                "value": "2.4 MΩ",
                "limit": "at least 0.20 MΩ",
                "instrument": "insulation tester no. 3",
                "measured_on": date(2027, 4, 20),
                "by": "E. Marrin",
            },
        ],
    }
    for fitted in data["fitted"]:
        fitted["serial_number"] = data["build"]["as_built"]["serial_numbers"].get(fitted["slot"])
    data["weights"]["front"]["measured_kg"] = 742.0
    data["weights"]["rear"]["measured_kg"] = 811.0
    data["weights"]["measured_kerb_kg"] = 1553.0
    return Spec.model_validate(data)


def text(section: str, **changes: Any) -> dict[str, Any]:
    """Make a text of the pack."""
    return {
        "id": f"text-{section}",
        "section": section,
        "title": f"About {section.replace('-', ' ')}",
        "order": 10,
        "review_by": date(2027, 6, 1),
        "approver": "Workshop engineer",
        "source": SOURCE,
        "body": BODY,
        **changes,
    }


def safety(signal: str) -> dict[str, Any]:
    """Make a safety message."""
    return {
        "signal": signal,
        "hazard": "The battery and the orange cables carry more than 400 V.",
        "consequence": "Touching a live part gives a shock that kills.",
        "avoid": ["Open no orange-marked part.", "Call a trained person."],
    }


def _texts() -> list[dict[str, Any]]:
    signals = ("danger", "warning", "caution", "notice")
    texts = []
    for number, section in enumerate(SECTIONS):
        body = BODY if not section.startswith("emergency") else "1. Keep clear.\n2. Call for help."
        message = safety(signals[number % 4]) if number % 2 else None
        texts.append(text(section, body=body, safety=message))
    return texts


def spec_data() -> dict[str, Any]:
    return {
        "build": _build(),
        "catalog_sha256": "5" * 64,
        "tool_version": "0.1.0",
        "workshop": _workshop(),
        "vehicle": _vehicle(),
        "is_complete": True,
        "choices": [_choice(*choice) for choice in CHOICES],
        "open_groups": [],
        "facts": _facts(),
        "price": _price(),
        "weights": _weights(),
        "ledger": _ledger(),
        "ranges": _ranges(),
        "charging": _charging(),
        "performance": _performance(),
        "electrical": _electrical(),
        "plan": _plan(),
        "findings": _findings(),
        "fitted": _fitted(),
        "survey": _survey(),
        "texts": _texts(),
        "country_rules": [
            {
                "id": "identity",
                "country": "United Kingdom",
                "title": "Identity of a converted vehicle",
                "advice": "A conversion to electric drive is notified to the authority.",
                "authority": "the licensing authority",
                "valid_from": date(2025, 8, 26),
                "source": SOURCE,
            }
        ],
    }


def _build() -> dict[str, Any]:
    return {
        "reference": "B-0042",
        "customer": {"name": "Orla Fennimore", "contact": "by letter, Saltmere"},
        "vehicle": "shore-van",
        "priced_on": date(2026, 11, 2),
        "choices": {group: "one" for group, *_ in CHOICES},
        "donor": {
            "description": "Dry, complete, one rear corner crumpled.",
            "identity_mark": "SV-66-00417",
            "front_axle_kg": 690.0,
            "rear_axle_kg": 640.0,
            "weighed_on": date(2026, 10, 20),
        },
        "notes": "Collects in spring.",
    }


def _workshop() -> dict[str, Any]:
    return {
        "name": "Greywater Conversions",
        "place": "Saltmere, Long Quay 3",
        "strapline": "Old vehicles, new drive, honest papers.",
        "contact": "The office on Long Quay, weekdays 8 to 16.",
        "emergency_contact": "The night bell of the office on Long Quay.",
        "is_invented": True,
        "country": "United Kingdom",
        "currency": "GBP",
        "vat": [{"percent": "20.00", "valid_from": date(2011, 1, 4), "source": SOURCE}],
        "trades": [{"id": "mechanic", "label": "Mechanic", "rate_gbp_per_hour": "62.00"}],
        "talk": [
            {"id": part, "label": f"The {part}", "introduction": f"What the {part} shall be."}
            for part in PARTS
        ],
        "roles": [
            {"id": "consultant", "label": "Adviser"},
            {"id": "engineer", "label": "Engineer"},
            {"id": "manager", "label": "Workshop manager"},
            {"id": "second-person", "label": "Second person"},
        ],
        "hours_per_week": "60.0",
        "queue_weeks": 8,
        "hours_allowance_percent": 15,
        "quotation_valid_days": 30,
        "headline_cases": ["town-summer", "road-winter"],
        "overnight_source": "wall",
        "terms": [
            {
                "valid_from": "2026-01-01",
                "source": "invented",
                "sentences": [
                    "Prices include VAT and hold for 30 days.",
                    "A vehicle made to your choices carries no right to cancel within 14 days.",
                ],
            }
        ],
        "exclusions": ["Registration fees.", "Rust that is found only after stripping."],
        "source": SOURCE,
    }


def _vehicle() -> dict[str, Any]:
    sure = {"sigma_percent": 8, "source": SOURCE}
    return {
        "id": "shore-van",
        "label": "Shore forward-control van",
        "year": 1966,
        "kind": "van",
        "introduction": "A square van with the driver over the front axle.",
        "source": SOURCE,
        "wheelbase_m": 2.4,
        "track_m": 1.37,
        "length_m": 4.25,
        "width_m": 1.72,
        "height_m": 1.95,
        "front_overhang_m": 0.95,
        "donor_front_axle_kg": 690,
        "donor_rear_axle_kg": 640,
        "front_axle_limit_kg": 1050,
        "rear_axle_limit_kg": 1250,
        "gross_mass_limit_kg": 2200,
        "mass_sigma_kg": 25,
        "driven_axle": "rear",
        "drag_area_m2": {"value": 1.6, **sure},
        "auxiliary_power_w": {"value": 200, **sure},
        "cabin_heat_loss_w_per_k": {"value": 60, **sure},
        "base_low_voltage_load_w": 300,
        "places": {
            "driver": {"label": "driver's seat", "x_m": 0.1, "y_m": 0.35, "z_m": 0.9},
            "under-floor": {"label": "under the floor", "x_m": 1.2, "z_m": 0.4},
            "rear-end": {"label": "rear compartment", "x_m": 2.7, "z_m": 0.6},
            "sill-front": {"label": "front jacking point", "x_m": 0.5, "y_m": 0.7, "z_m": 0.3},
            "sill-rear": {"label": "rear jacking point", "x_m": 1.9, "y_m": 0.7, "z_m": 0.3},
            "nose": {"label": "front tow eye", "x_m": -0.9, "z_m": 0.4},
            "flap": {"label": "behind the left flap", "x_m": 2.9, "y_m": -0.8, "z_m": 0.8},
        },
        "driver_place": "driver",
        "takes_out": [{"what": "engine and gearbox", "mass_kg": 160, "place": "rear-end"}],
        "puts_in": [{"what": "motor", "mass_kg": 95, "place": "rear-end", "emblem": "motor"}],
        "carries": [],
        "base_lines": [{"id": "conversion", "label": "Conversion", "parts_gbp": "9000.00"}],
        "survey_template": "van-body",
        "outline": {
            "body": [
                [-0.95, 0.35], [-0.95, 1.1], [-0.7, 1.75], [3.25, 1.75], [3.3, 0.35],
            ],
            "roof": [[-0.7, 1.75], [-0.3, 1.95], [3.0, 1.95], [3.25, 1.75]],
            "windows": [[[-0.6, 1.2], [-0.45, 1.65], [0.3, 1.65], [0.3, 1.2]]],
        },
        "controls": [
            "Turn the key to the second position.",
            "Wait for the green lamp.",
            "Press the brake pedal and choose D.",
        ],
        "lifting_points": ["sill-front", "sill-rear"],
        "tow_eye": "nose",
    }  # fmt: skip


def _choice(group: str, label: str, part: str, option: str, origin: str) -> dict[str, Any]:
    look: dict[str, Any] = {}
    if group == "colour":
        look = {"body_colour": "#8a9aa0", "second_colour": "#f1ece0"}
    if group == "roof":
        look = {"roof_shape": "folding"}
    return {
        "group_id": group,
        "group_label": label,
        "part_id": part,
        "option_id": "one",
        "option_label": option,
        "summary": f"{option}: fitted by our own people and made to last.",
        "origin": origin,
        "look": look,
    }


def _open_group(group: str, label: str, part: str, stage: str, close_by: date) -> dict[str, Any]:
    return {
        "group_id": group,
        "group_label": label,
        "part_id": part,
        "closes_at": stage,
        "close_by": close_by,
        "possible_options": 3,
    }


def _fact(
    name: str, label: str, unit: str, value: float, case: str | None = None
) -> dict[str, Any]:
    return {"name": name, "case": case, "label": label, "unit": unit, "low": value, "high": value}


def _facts() -> list[dict[str, Any]]:
    return [
        _fact("kerb_mass_kg", "Kerb mass", "kg", 1540.0),
        _fact("payload_kg", "Payload", "kg", 660.0),
        _fact("seats", "Seats", "", 5.0),
        _fact("usable_energy_kwh", "Usable energy", "kWh", 37.8),
        _fact("pre_charge_seconds", "Pre-charge", "s", 0.4),
        _fact("bleed_seconds", "Down to 60 V after switching off", "s", 36.4),
        _fact("top_speed_km_h", "Top speed", "km/h", 112.0),
        _fact("hill_restart_percent", "Steepest restart, laden", "%", 24.0),
        _fact("cruise_power_margin_kw", "Power left at cruising speed", "kW", 18.5),
        _fact("range_low_km", "Range", "km", 151.0, "town-summer"),
    ]


def _price() -> dict[str, Any]:
    lines = [
        {"id": "conversion", "label": "Conversion to electric drive", "kind": "base",
         "amount_gbp": Decimal("21480.00")},
    ]  # fmt: skip
    for number, (group, label, _, option, _) in enumerate(CHOICES):
        amount = Decimal("137.35") * number
        lines.append(
            {"id": group, "label": f"{label}: {option}", "kind": "option", "amount_gbp": amount}
        )
    lines += [
        {"id": "corner", "label": "Rear corner, repair", "kind": "survey",
         "amount_gbp": Decimal("1188.00")},
        {"id": "sill", "label": "Inner sill, provisional", "kind": "provisional",
         "amount_gbp": Decimal("900.00")},
        {"id": "discount", "label": "Discount: demonstration drive", "kind": "discount",
         "amount_gbp": Decimal("-250.00")},
    ]  # fmt: skip
    total = sum((line["amount_gbp"] for line in lines), Decimal(0))
    first = (total * Decimal("0.10")).quantize(Decimal("0.01"))
    payments = [
        {"stage_id": "order", "stage_label": "Order", "percent": "10.00", "amount_gbp": first},
        {"stage_id": "handover", "stage_label": "Handover", "percent": "90.00",
         "amount_gbp": total - first},
    ]  # fmt: skip
    return {
        "lines": lines,
        "decided_gbp": total,
        "total_low_gbp": total,
        "total_high_gbp": total,
        "vat_percent": "20.00",
        "vat_included_low_gbp": (total / 6).quantize(Decimal("0.01")),
        "vat_included_high_gbp": (total / 6).quantize(Decimal("0.01")),
        "payments": payments,
        "hours_low": "412.5",
        "hours_high": "412.5",
    }


def _axle(axle: str, donor: float, kerb: float, laden: float, limit: float) -> dict[str, Any]:
    return {
        "axle": axle, "donor_kg": donor, "kerb_low_kg": kerb, "kerb_high_kg": kerb,
        "laden_low_kg": laden, "laden_high_kg": laden, "limit_low_kg": limit,
        "limit_high_kg": limit, "limited_by": "axle", "measured_kg": None,
    }  # fmt: skip


def _weights() -> dict[str, Any]:
    return {
        "front": _axle("front", 690, 735, 960, 1050),
        "rear": _axle("rear", 640, 805, 1195, 1250),
        "kerb_low_kg": 1540.0,
        "kerb_high_kg": 1540.0,
        "kerb_sigma_kg": 25.0,
        "laden_low_kg": 2155.0,
        "laden_high_kg": 2155.0,
        "gross_limit_kg": 2200.0,
        "rear_share_donor_percent": 48.1,
        "rear_share_low_percent": 52.3,
        "rear_share_high_percent": 52.3,
        "measured_kerb_kg": None,
    }


def _ledger() -> list[dict[str, Any]]:
    entries = (
        ("engine and gearbox", -160.0, "rear-end", 2.7, 0.0, 0.6, None),
        ("battery box", 285.0, "under-floor", 1.2, 0.0, 0.4, "traction-battery"),
        ("motor", 95.0, "rear-end", 2.7, 0.0, 0.6, "motor"),
        ("charger", 12.0, "rear-end", 2.5, 0.3, 0.7, "charger"),
        ("charging inlet", 3.0, "flap", 2.9, -0.8, 0.8, "charging-inlet"),
        ("service disconnect", 2.0, "under-floor", 0.9, 0.2, 0.5, "service-disconnect"),
        ("12 V battery", 14.0, "driver", 0.1, 0.35, 0.5, "low-voltage-battery"),
    )
    labels = {place: data["label"] for place, data in _vehicle()["places"].items()}
    return [
        {"what": what, "mass_kg": mass, "place_id": place, "place_label": labels[place],
         "x_m": x, "y_m": y, "z_m": z, "emblem": emblem, "when": "kerb"}
        for what, mass, place, x, y, z, emblem in entries
    ]  # fmt: skip


def _ranges() -> list[dict[str, Any]]:
    cases = (
        ("town-summer", "Town, summer", 20.0, 151.0, 169.0, 188.0),
        ("town-winter", "Town, winter", -5.0, 96.0, 109.0, 123.0),
        ("road-summer", "Country road, summer", 20.0, 141.0, 156.0, 173.0),
        ("road-winter", "Country road, winter", -5.0, 92.0, 104.0, 117.0),
        ("fast", "110 km/h, summer", 20.0, 79.0, 90.0, 102.0),
    )
    return [
        {"case_id": case, "label": label,
         "conditions": f"standard cycle, {temperature:.0f} °C, driver alone, new battery",
         "temperature_c": temperature, "low_km": low, "mid_km": mid,
         "high_km": high, "consumption_wh_per_km": 225.0}
        for case, label, temperature, low, mid, high in cases
    ]  # fmt: skip


def _charging() -> list[dict[str, Any]]:
    rows = (
        ("socket", "Domestic socket, 10 A", "ac", 10.0, 100.0, 15.2, 16.7),
        ("wall", "Wall unit, 32 A", "ac", 10.0, 100.0, 5.1, 53.3),
        ("rapid", "Rapid unit, 50 kW", "dc", 10.0, 80.0, 0.66, None),
    )
    cost = {"tariff_label": "At home, by night", "pence_per_kwh": "9.20", "cost_gbp": "3.72"}
    return [
        {"source_id": source, "label": label, "supply": supply, "from_percent": start,
         "to_percent": end, "low_hours": hours, "high_hours": hours, "pilot_duty_percent": duty,
         "voltage_v": 230.0 if supply == "ac" else 500.0, "current_a": 32.0,
         "phases": 1 if supply == "ac" else 0, "cable_current_a": 32.0, "power_kw": 6.9,
         "limited_by": "source", "phases_used": 1, "taper_from_percent": 95.0, "cold_c": 0.0,
         "cold_hours": None if supply == "dc" else hours, "cold_limited_by": "temperature",
         "km_per_hour_low": 21.2, "km_per_hour_high": 26.4, "km_case": "Town, summer",
         "mains_kwh": 40.4, "costs": [cost], "socket_label": "C" if supply == "ac" else "K"}
        for source, label, supply, start, end, hours, duty in rows
    ]  # fmt: skip


def _performance() -> list[dict[str, Any]]:
    words = {"how": "force left over by mass", "source": SOURCE}
    return [
        {"id": "seconds-to-50", "topic": "Pulling away", "label": "0 to 50 km/h", "value": 4.52,
         "unit": "s", "decimals": 1, "rounding": "up", "limited_by": "the motor, 80 kW",
         "note": "On a wet road the driven tyres slip first.", **words},
        {"id": "top-speed", "topic": "Top speed", "label": "Top speed it can hold",
         "value": 118.0, "unit": "km/h", "decimals": 0, "limited_by": "power", **words},
        {"id": "motorway-climb", "topic": "Fast road", "label": "110 km/h up 2 %", "value": 44.2,
         "unit": "kW", "decimals": 1, "rounding": "up", "margin": -9.2,
         "note": "9.2 kW more than lasts: slow down to about 97 km/h.", **words},
    ]  # fmt: skip


def _electrical() -> list[dict[str, Any]]:
    words = {"unit": "A", "decimals": 0, "source": SOURCE}
    return [
        {"id": "design-current", "topic": "Currents", "label": "What the set is sized for",
         "value": 152.0, "verdict": "told", "formula": "continuous, all running", **words},
        {"id": "fuse-current", "topic": "Main fuse", "label": "Rating against the current",
         "value": 200.0, "bound": 190.0, "bound_is": "at least", "margin": 10.0,
         "verdict": "kept", "formula": "1.25 times the current", **words},
        {"id": "fuse-cable", "topic": "Main fuse", "label": "Rating against the cables",
         "value": 200.0, "bound": 180.0, "bound_is": "at most", "margin": -20.0,
         "verdict": "beyond", "formula": "what the cables carry", **words},
        {"id": "contactor-peak", "topic": "Main contactors", "label": "Peak current",
         "value": None, "bound": 500.0, "bound_is": "at most", "verdict": "not stated",
         "missing": "a motor", "formula": "the greatest of them", **words},
        {"id": "isolation-joined", "topic": "Isolation", "label": "Isolation, joined",
         "value": None, "bound": 226.5, "bound_is": "at least", "verdict": "to measure",
         "formula": "500 Ω for each volt", **words, "unit": "kΩ", "decimals": 1},
    ]  # fmt: skip


def _plan() -> dict[str, Any]:
    return {
        "start": date(2027, 1, 4),
        "earliest_handover": date(2027, 4, 19),
        "latest_handover": date(2027, 5, 10),
        "stages": [
            {"stage_id": stage.lower(), "label": stage, "hours_low": hours, "hours_high": hours}
            for stage, hours in (("Strip", "60.0"), ("Paint", "140.0"), ("Assembly", "212.5"))
        ],
    }


def _findings() -> list[dict[str, Any]]:
    return [
        {
            "code": "F101", "severity": "warns", "subject": "rear-axle",
            "sentence": "The rear axle is close to its limit when everybody is aboard.",
            "value": 1195.0, "bound": 1250.0, "unit": "kg", "source": SOURCE,
            "remedy": "Weigh the finished vehicle before the road test.",
        },
        {
            "code": "F201", "severity": "notes", "subject": "axle-split",
            "sentence": "More of the mass stands on the rear axle than on the donor.",
            "value": 4.2, "bound": 3.0, "unit": "points", "source": SOURCE, "remedy": "",
        },
    ]  # fmt: skip


def _fitted() -> list[dict[str, Any]]:
    sure = {"sigma_percent": 5, "source": SOURCE}
    parts: tuple[dict[str, Any], ...] = (
        {"kind": "pack", "series": 108, "parallel": 2, "module_label": "12-cell module",
         "modules_are": "used", "chemistry": "NMC", "capacity_kwh": 42, "usable_percent": 90,
         "capacity_sigma_percent": 4, "aged_capacity_percent": 80, "nominal_voltage_v": 396,
         "full_voltage_v": 453, "empty_voltage_v": 324, "resistance_ohm": 0.12,
         "peak_discharge_kw": 90, "peak_charge_kw": 50},
        {"kind": "motor", "peak_power_kw": 80, "continuous_power_kw": 35, "peak_torque_nm": 230,
         "max_speed_rpm": 12000, "min_voltage_v": 250, "max_voltage_v": 460,
         "efficiency": {"value": 0.92, **sure}, "recovery_efficiency": {"value": 0.85, **sure},
         "no_load_loss_w": 300},
        {"kind": "reduction", "overall_ratios": [9.2], "efficiency": {"value": 0.97, **sure}},
        {"kind": "charger", "ac_power_kw": 11, "phases": 3, "max_current_a": 16,
         "efficiency": 0.93, "min_voltage_v": 250, "max_voltage_v": 460, "socket_label": "C"},
        {"kind": "dc_inlet", "max_power_kw": 50, "max_current_a": 125, "socket_label": "K"},
        {"kind": "heater", "works_by": "heat-pump", "max_heat_kw": 5,
         "coefficient_of_performance": {-10: 1.6, 10: 2.6}},
        {"kind": "converter", "rating_w": 1500, "efficiency": 0.93},
        {"kind": "traction_cable", "area_mm2": 50, "rated_current_a": {"value": 260, **sure},
         "max_conductor_c": 150, "rated_voltage_v": 1000},
        {"kind": "main_fuse", "rated_current_a": 200, "rated_voltage_v": 500,
         "breaking_current_a": 20000},
        {"kind": "main_contactor", "rated_current_a": 250, "peak_current_a": 500,
         "rated_voltage_v": 800},
        {"kind": "pre_charge", "resistor_ohm": 80, "pulse_energy_j": 150},
        {"kind": "tyre", "size": "185 R14 C", "load_index": 102, "speed_symbol": "R",
         "rolling_radius_m": 0.325, "rolling_resistance": {"value": 0.011, **sure},
         "front_pressure_bar": 2.6, "rear_pressure_bar": 3.2},
        {"kind": "wheel", "rating_kg": 750},
    )  # fmt: skip
    return [
        {
            "slot": part["kind"],
            "component": {
                "id": part["kind"].replace("_", "-"),
                "label": part["kind"].replace("_", " ").capitalize(),
                "maker": "Invented Works",
                "source": SOURCE,
                **part,
            },
            "serial_number": None,
        }
        for part in parts
    ]


def _survey() -> list[dict[str, Any]]:
    return [
        {"part_id": "corner", "label": "Rear corner, left", "area": "body", "verdict": "repair",
         "hours": "14.0", "amount_gbp": "1188.00", "provisional_gbp": "0.00",
         "origin": "own metal", "note": "Crumpled, not perforated."},
        {"part_id": "brake-lines", "label": "Brake lines", "area": "brakes",
         "verdict": "replace", "hours": "6.0", "amount_gbp": "0.00", "provisional_gbp": "0.00",
         "origin": "new, maker's papers kept", "note": ""},
    ]  # fmt: skip

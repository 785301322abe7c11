"""The codes of what the physics room refuses, each with its title."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

FAULT_CODES: Mapping[str, str] = MappingProxyType(
    {
        "M001": "A measurement is not a finite number",
        "M002": "A measurement must be above zero",
        "M003": "A measurement must not be negative",
        "M004": "An efficiency or share must be above 0 and at most 1",
        "M005": "A share must be between 0 and 1",
        "M006": "A percentage must be between 0 and 100",
        "M007": "A temperature is outside what the model knows",
        "M008": "An altitude is outside the troposphere",
        "M009": "A tyre load index is not in the table",
        "M010": "A tyre speed symbol is not in the table",
        "M011": "A control pilot signal is outside the standard",
        "M012": "Charging must end at a higher charge than it starts",
        "M013": "A trip needs either a speed trace or a steady speed",
        "M014": "A trip goes nowhere",
        "M015": "A trip gives back as much energy as it takes",
        "M016": "A heater's points must rise in temperature",
        "M017": "A number of phases is not 1 or 3",
        "M019": "A correlation must be between -1 and 1",
        "M020": "An efficiency is stated at too few loads",
        "M021": "A coast-down run is not in order",
        "M022": "A coast-down has too few speeds",
        "M023": "A coast-down spans too few speeds",
        "M024": "A coast-down says that nothing slows the vehicle",
        "M025": "A measured trip is too far from what was computed",
        "M026": "A coast-down scatters too much",
    }
)

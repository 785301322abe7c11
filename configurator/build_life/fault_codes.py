"""Codes of what stands against a step in the life of a build, with what each means."""

from __future__ import annotations

from collections.abc import Mapping

FAULT_CODES: Mapping[str, str] = {
    "L001": "A finding blocks the issue of a spec",
    "L002": "A finding warns and nobody wrote why the work goes on",
    "L003": "A choice is open although the stage that closes it is reached",
    "L004": "Nothing differs from the issued spec",
    "L005": "The vehicle was handed over",
    "L006": "Nothing says why another spec takes the place of the issued one",
    "L007": "No spec is issued yet",
    "L008": "A stage is not the next one",
    "L009": "A choice that the stage closes is still open",
    "L010": "The issued spec is not signed off",
    "L020": "Something was measured before the first spec was issued",
    "L021": "A day of measurement is still to come",
    "L022": "The last stage is reached by handing the vehicle over",
    "L023": "A record of an earlier stage is missing or out of tolerance",
    "L024": "A change order waits while a stage is to be reached",
}

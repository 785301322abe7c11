"""Codes of the faults that the steps of the work tell, with what each means."""

from __future__ import annotations

FAULT_CODES: dict[str, str] = {
    "P001": "The vehicle is not in the catalog (any more)",
    "P002": "The vehicle has no such group of options",
    "P003": "The option is not offered",
    "P004": "The option does not go with the other choices",
    "P005": "No change of other choices lets the option in, or none that leaves what must be kept",
    "P006": "There is no change left to take back",
    "P007": "A choice of the draft is not in the catalog any more",
    "P008": "An enquiry cannot be kept as it is written",
    "P009": "A file or folder cannot be written",
    "P010": "A stored document is missing or was altered",
    "P011": "The catalog has no demonstration builds",
    "P012": "The way out is not one of those there are",
    "P013": "A group has no choice that could be kept",
    "P014": "Choices marked as must keep contradict each other",
    "P020": "A vehicle has no complete build",
    "P021": "No complete build can have an option",
    "P022": "The house choices do not go together",
    "P030": "A build found for the wishes is not possible (any more)",
    "P031": "A build found for the wishes alters a choice marked to be kept",
}

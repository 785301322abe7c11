"""Fault codes of the pipeline with their meaning."""

FAULT_CODES = {
    "S001": "The vehicle is not in the catalog",
    "S002": "The vehicle has no such group",
    "S003": "The option is not offered for this vehicle",
    "S004": "The survey names a part that the vehicle does not have",
    "S005": "A limit bounds its fact in a way that cannot be used",
    "S006": "A wish names no fact",
    "S007": "A wish names no case, or one that its fact does not have",
    "S008": "A wish bounds its fact from the side that serves nobody",
    "S009": "A wish has a target that cannot be",
    "S010": "A choice is marked to be kept that is not made or not offered",
    "S011": "There are too many wishes or preferences",
    "S012": "A day charges at a place that the catalog does not have",
    "S013": "A day gives back as much energy as it takes",
    "S014": "A day has an entry that cannot be",
}

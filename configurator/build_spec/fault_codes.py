"""Fault codes of the pipeline with their meaning."""

FAULT_CODES = {
    "S001": "The vehicle is not in the catalog",
    "S002": "The vehicle has no such group",
    "S003": "The option is not offered for this vehicle",
    "S004": "The survey names a part that the vehicle does not have",
    "S005": "A limit bounds its fact in a way that cannot be used",
}

"""Every finding code with its meaning; DEVELOPERS.md has a heading for each."""

FINDING_CODES = {
    "F001": "A rule is broken by the choices",
    "F002": "A limit that blocks is broken",
    "F003": "A limit that warns is broken",
    "F004": "A fact is near its limit",
    "F005": "A part whose origin must be known has none recorded",
    "F006": "The choices cannot stand together",
    "F007": "A choice is no longer in the catalog",
    "F008": "The donor has not been weighed",
    "F009": "A driving case asks for more power than the drive has",
    "F010": "The weighed donor is far from the usual weight",
}

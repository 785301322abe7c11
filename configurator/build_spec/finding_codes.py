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
    "F021": "The trailer of the customer's day is heavier than the options allow",
    "F022": "The load of the customer's day is more than the vehicle may carry",
    "F023": "The customer's day does not fit",
    "F024": "The customer's day asks for more power than the drive has",
    "F025": "The customer's day cannot be computed",
    "F026": "A value that range or weights read is guessed",
    "F031": "A check of the electrical set is not kept",
    "F032": "The inverter holds back before its full power",
    "F033": "Something of the electrical set is not stated",
}

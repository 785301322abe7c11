"""The sections of a spec, each with a hash of its own: which of them a later letter changed."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from types import MappingProxyType

from configurator.build_spec.spec import Spec
from configurator.catalog.models.workshop import SpecSection

FIELDS: Mapping[SpecSection, tuple[str, ...]] = MappingProxyType(
    {
        "customer": ("build.customer", "build.donor", "build.second_donor", "build.notes"),
        "choices": ("choices", "open_groups", "is_complete", "vehicle"),
        "price": ("price", "workshop.exclusions"),
        "weights": ("weights", "ledger"),
        "ranges": ("ranges", "day", "build.measurements"),
        "charging": ("charging",),
        "electrical": ("electrical",),
        "performance": ("performance",),
        "plan": ("plan",),
        "survey": ("survey",),
        "fitted": ("fitted", "build.as_built"),
        "texts": ("texts", "country_rules", "workshop.emergency_contact"),
        "findings": ("findings",),
    }
)
"""Section → the fields of the spec, and of the build and workshop in it, that it holds."""

SECTION_LABELS: Mapping[SpecSection, str] = MappingProxyType(
    {
        "customer": "customer and donor",
        "choices": "choices",
        "price": "price and what it leaves out",
        "weights": "weights and axle loads",
        "ranges": "range",
        "charging": "charging",
        "electrical": "electrical set",
        "performance": "what the drive can do",
        "plan": "plan and dates",
        "survey": "survey of the donor",
        "fitted": "fitted parts",
        "texts": "texts for the owner and rules of the country",
        "findings": "what the checks found",
    }
)


def section_hashes(spec: Spec) -> dict[str, str]:
    """Hash each section of a spec.

    Returns
    -------
    dict
        Section → SHA-256 of its canonical JSON.
    """
    told = spec.model_dump(mode="json")
    return {
        str(section): _hash([_field(told, name) for name in fields])
        for section, fields in FIELDS.items()
    }


def changed_sections(
    before: Mapping[str, str], after: Mapping[str, str]
) -> tuple[SpecSection, ...]:
    """List the sections that two specs do not share, by their hashes.

    Examples
    --------
    >>> changed_sections({"price": "a", "plan": "b"}, {"price": "c", "plan": "b"})
    ('price',)
    """
    return tuple(section for section in FIELDS if before.get(section) != after.get(section))


def sections_in_words(sections: tuple[str, ...]) -> tuple[str, ...]:
    """Name sections as people read them.

    Examples
    --------
    >>> sections_in_words(("ranges", "plan"))
    ('range', 'plan and dates')
    """
    labels: dict[str, str] = {str(section): label for section, label in SECTION_LABELS.items()}
    return tuple(labels.get(section, section) for section in sections)


def _field(told: object, name: str) -> object:
    for part in name.split("."):
        assert isinstance(told, dict)  # noqa: S101  a dumped model is a mapping
        told = told[part]
    return told


def _hash(content: object) -> str:
    written = json.dumps(content, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(written.encode()).hexdigest()

"""The note on characters that the embedded fonts lack."""

from __future__ import annotations

from reportlab.platypus import Flowable

from configurator.build_spec.spec import Spec
from configurator.documents.glyphs import BOX, unprintable_characters
from configurator.documents.paragraphs import small

_MOST_LISTED = 24


def character_note(spec: Spec) -> list[Flowable]:
    """Say which characters print as a box and where the text is kept; nothing when all print."""
    missing = unprintable_characters(spec.canonical_json())
    if not missing:
        return []
    listed = ", ".join(f"U+{ord(character):04X}" for character in missing[:_MOST_LISTED])
    more = len(missing) - _MOST_LISTED
    rest = f" and {more} more" if more > 0 else ""
    return [
        small(
            f"{BOX} stands for a character that the fonts of this document cannot print: "
            f"{listed}{rest}. Nothing is lost: the machine-readable spec keeps every name as typed."
        )
    ]

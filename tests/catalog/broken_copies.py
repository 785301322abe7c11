"""Copies of the tiny catalog with something changed in them."""

from __future__ import annotations

import shutil
from pathlib import Path

TINY = Path(__file__).parent.parent / "catalogs" / "tiny"


def copy_of_tiny(folder: Path) -> Path:
    copied = folder / "catalog"
    shutil.copytree(TINY, copied)
    return copied


def change(catalog: Path, file: str, old: str, new: str) -> int:
    """Replace the one place where `old` stands; return the line where the new text begins."""
    path = catalog / file
    text = path.read_text(encoding="utf-8")
    assert text.count(old) >= 1, f"{old!r} is not in {file}"
    line = text[: text.index(old)].count("\n") + 1
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    return line

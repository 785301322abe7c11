"""Faults of each kind that `check` finds, planted in a copy of the tiny catalog."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

RULES = """\
rules:
  - id: slats-against-few-cells
    when: {box: [slatted-box], cells: [few-cells]}
    then_not: {livery: [buttermilk, nettle, sloe]}
    because: With few cells there is no strength left for the slats.
    source: invented for tests
  - id: slats-against-many-cells
    when: {box: [slatted-box], cells: [many-cells]}
    then_not: {livery: [buttermilk, nettle, sloe]}
    because: With many cells there is no room left for the slats.
    source: invented for tests
  - id: slats-want-a-scarf
    when: {box: [slatted-box]}
    then: {warmth: [scarf]}
    because: The wind blows through.
    source: invented for tests
  - id: van-is-stiff
    vehicles: [clover-van]
    when: {cells: [few-cells, many-cells]}
    then: {springs: [stiff-springs]}
    because: The van has always swayed.
    source: invented for tests
  - id: wire-wants-stiff-springs
    when: {warmth: [hot-wire]}
    then: {springs: [stiff-springs]}
    because: A warm driver is a fast driver.
    source: invented for tests
"""

LIMIT = """\
  - id: nobody-pays-more
    label: Dearest build
    limit: price_gbp
    at_most: 900000
    because: Nobody has that much.
    source: invented for tests
"""

TEXT = """\
---
id: oil-the-slats
section: care
title: The slats
order: 9
applies_if:
  choices: {box: [slatted-box]}
review_by: 2030-01-01
approver: Engineer of the float works
source: invented for tests
---
Oil them in spring.
"""


@dataclass(frozen=True)
class Planted:
    """A fault that was planted, and where it is to be found."""

    code: str
    where: str
    words: tuple[str, ...]


def line_of(path: Path, text: str) -> int:
    """Find the one line that holds a text."""
    (found,) = [n for n, line in enumerate(path.read_text("utf-8").splitlines(), 1) if text in line]
    return found


def change(path: Path, old: str, new: str) -> None:
    """Change the first place in a file that holds a text."""
    content = path.read_text("utf-8")
    assert old in content
    path.write_text(content.replace(old, new, 1), encoding="utf-8")


def plant(folder: Path) -> tuple[Planted, ...]:
    """Plant one fault of each kind, prices of long ago among them."""
    rules, limits = folder / "rules" / "planted.yaml", folder / "limits.yaml"
    rules.write_text(RULES, encoding="utf-8")
    limits.write_text(limits.read_text("utf-8") + LIMIT, encoding="utf-8")
    (folder / "texts" / "slats.md").write_text(TEXT, encoding="utf-8")
    change(folder / "groups" / "livery.yaml", "priced_on: 2026-01-10", "priced_on: 2024-12-24")
    change(folder / "texts" / "after" / "wheels.md", "{tyre: [round-tyre], wheel", "{wheel")
    change(folder / "texts" / "after" / "charging.md", "slots:", "vehicles: []\n  slots:")

    def at(file: str, text: str) -> str:
        return f"{file}:{line_of(folder / file, text)}"

    few = f'rule "slats-against-few-cells" ({at("rules/planted.yaml", "slats-against-few")})'
    many = f'rule "slats-against-many-cells" ({at("rules/planted.yaml", "slats-against-many")})'
    stiff = f'rule "van-is-stiff" ({at("rules/planted.yaml", "van-is-stiff")})'
    return (
        Planted(
            "P021",
            at("groups/box.yaml", "id: slatted-box"),
            ("Clover van can have Slatted box", "no strength left", "together forbid", few, many),
        ),
        Planted("P021", at("groups/springs.yaml", "id: old-springs"), ("Clover van", stiff)),
        Planted(
            "P022",
            at("groups/springs.yaml", "id: springs"),
            ("name The old springs, which no complete build can have: ", "always swayed"),
        ),
        Planted("P023", at("rules/planted.yaml", "slats-want-a-scarf"), (few, many)),
        Planted(
            "P024",
            at("rules/planted.yaml", "wire-wants-stiff-springs"),
            ('"hot-wire-wants-many-cells"', '"many-cells-want-springs"', "on Clover float"),
        ),
        Planted("P025", at("groups/springs.yaml", "id: springs"), ("Stiff springs is left", stiff)),
        Planted("P025", at("groups/box.yaml", "id: box"), ("Bare bed is left for Box", few, many)),
        Planted("P026", at("limits.yaml", "nobody-pays-more"), ("whatever is chosen",)),
        Planted("P027", at("texts/slats.md", "id: oil-the-slats"), (few, many)),
        Planted("W001", at("components/rolling.yaml", "id: round-tyre"), ("round-tyre",)),
        Planted("W002", at("texts/after/charging.md", "id: charging"), ("charging-at-home",)),
        Planted("W012", at("groups/livery.yaml", "id: buttermilk"), ("2024-12-24",)),
    )

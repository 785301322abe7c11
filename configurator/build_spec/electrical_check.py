"""How a check of the electrical set is put: value, bound, margin, verdict, in words with source."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal

from configurator.catalog.models.data import Data
from configurator.catalog.models.rule import FactName

PRACTICE = "common practice, no source"
FIRST_PRINCIPLES = "first principles"
DATA_SHEETS = "the makers' data sheets, as the catalog states them"

A_DRIVE = "a battery and a motor that go together by their voltages"

STORED_DECIMALS = 3

RoomAskedFor = Callable[[FactName], float]
"""Gives the room that the limits of the catalog ask for beyond the bound; 0 where they do not."""

Verdict = Literal["kept", "beyond", "told", "to measure", "not stated"]
BoundIs = Literal["at most", "at least"]


class ElectricalCheck(Data):
    """A value of the electrical set, held against its bound where it has one."""

    id: str
    topic: str
    """Heading under which it stands, such as "Main fuse"."""
    label: str
    value: float | None
    unit: str
    decimals: int
    bound: float | None = None
    bound_is: BoundIs | None = None
    margin: float | None = None
    """How far inside its bound; negative beyond it."""
    verdict: Verdict
    missing: str = ""
    """What would have to be stated for a verdict."""
    formula: str
    """How it is computed, in words."""
    source: str
    recorded: str = ""
    """What was measured on the finished vehicle, when and by whom; the value is then that."""


@dataclass(frozen=True)
class CheckWords:
    """What a check is about, before anything is known."""

    id: str
    topic: str
    label: str
    unit: str
    formula: str
    source: str
    decimals: int = 0
    bound_is: BoundIs | None = None

    def told(self, value: float | None, missing: str = "") -> ElectricalCheck:
        """Tell a value that nothing bounds here.

        Parameters
        ----------
        value : float or None
            None where something is missing.
        missing : str
            What would have to be stated.
        """
        return self._check(value, None, "told" if value is not None else "not stated", missing)

    def to_measure(self, bound: float) -> ElectricalCheck:
        """Tell what a measurement on the finished vehicle must show."""
        return self._check(None, bound, "to measure", "")

    def against(
        self, value: float | None, bound: float | None, missing: str = ""
    ) -> ElectricalCheck:
        """Hold a value against its bound."""
        if value is None or bound is None:
            return self._check(value, bound, "not stated", missing)
        margin = round(bound - value if self.bound_is == "at most" else value - bound, 6)
        return self._check(value, bound, "kept" if margin >= 0 else "beyond", "", margin)

    def also(self, formula: str) -> CheckWords:
        """Add to what is said of how it is computed."""
        return replace(self, formula=f"{self.formula}{formula}")

    def _check(
        self,
        value: float | None,
        bound: float | None,
        verdict: Verdict,
        missing: str,
        margin: float | None = None,
    ) -> ElectricalCheck:
        return ElectricalCheck(
            id=self.id,
            topic=self.topic,
            label=self.label,
            value=_stored(value),
            unit=self.unit,
            decimals=self.decimals,
            bound=_stored(bound),
            bound_is=self.bound_is,
            margin=_stored(margin),
            verdict=verdict,
            missing=missing if verdict == "not stated" else "",
            formula=self.formula,
            source=self.source,
        )


def asked_for(extra: float, unit: str) -> str:
    """Say that a limit of the catalog asks for more than the bound, or for less.

    Examples
    --------
    >>> asked_for(10.0, "A"), asked_for(-5.0, "A"), asked_for(0.0, "A")
    ('; the catalog asks for 10 A more', '; the catalog allows 5 A less', '')
    """
    if extra < 0:
        return f"; the catalog allows {-extra:g} {unit} less"
    return f"; the catalog asks for {extra:g} {unit} more" if extra else ""


def _stored(value: float | None) -> float | None:
    return None if value is None else round(value, STORED_DECIMALS)

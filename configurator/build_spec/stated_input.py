"""An input of a computation with its standard deviation and where it comes from."""

from __future__ import annotations

from configurator.catalog.models.data import Basis, Data


class StatedInput(Data):
    """A number that a fact was computed from, as people may check it."""

    id: str
    """In kebab-case, such as `drag-area`."""
    label: str
    value: float
    unit: str
    sigma: float = 0.0
    """Standard deviation in the same unit; 0 for what is chosen or defined."""
    basis: Basis = "catalog"
    source: str
    """Where it comes from, in words."""

    @property
    def sigma_told(self) -> float:
        """The standard deviation with the two digits that are worth telling.

        Source: GUM, JCGM 100, clause 7.2.6.
        """
        return float(f"{self.sigma:.2g}")


class BandCause(Data):
    """An input that widens a band, with what would narrow it."""

    input: StatedInput
    variance_percent: float
    """Its share of the band's variance [%]."""
    narrowed_by: str
    """What a person could do, such as "Weigh the vehicle"."""

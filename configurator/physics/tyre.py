"""What a tyre may carry and how fast it may go, by the marks on its side wall."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from configurator.errors import Fault, MeasurementError

LEAST_LOAD_INDEX = 70

# fmt: off
_LOADS_KG = (
    335, 345, 355, 365, 375, 387, 400, 412, 425, 437,
    450, 462, 475, 487, 500, 515, 530, 545, 560, 580,
    600, 615, 630, 650, 670, 690, 710, 730, 750, 775,
    800, 825, 850, 875, 900, 925, 950, 975, 1000, 1030,
    1060, 1090, 1120, 1150, 1180, 1215, 1250, 1285, 1320, 1360,
    1400, 1450,
)
# fmt: on

_SPEEDS_KM_H: Mapping[str, float] = MappingProxyType(
    {
        "L": 120.0,
        "M": 130.0,
        "N": 140.0,
        "P": 150.0,
        "Q": 160.0,
        "R": 170.0,
        "S": 180.0,
        "T": 190.0,
        "U": 200.0,
        "H": 210.0,
        "V": 240.0,
        "W": 270.0,
        "Y": 300.0,
    }
)


def tyre_load_kg(load_index: int) -> float:
    """Look up what one tyre may carry.

    Parameters
    ----------
    load_index : int
        The load index marked on the tyre, 70 to 121.

    Returns
    -------
    float
        Greatest load on one tyre [kg].

    Raises
    ------
    MeasurementError
        If the index is not in the table.

    Source
    ------
    ISO 4000-1, load index table.

    Examples
    --------
    >>> tyre_load_kg(91)
    615.0
    """
    greatest = LEAST_LOAD_INDEX + len(_LOADS_KG) - 1
    if load_index not in range(LEAST_LOAD_INDEX, greatest + 1):
        what = (
            f"load_index is {load_index!r}; "
            f"the table goes from {LEAST_LOAD_INDEX} to {greatest} in whole numbers"
        )
        raise MeasurementError([Fault("M009", "tyre", what, "Read it again off the side wall.")])
    return float(_LOADS_KG[int(load_index) - LEAST_LOAD_INDEX])


def tyre_speed_km_h(symbol: str) -> float:
    """Look up how fast a tyre may go.

    Parameters
    ----------
    symbol : str
        The speed symbol marked on the tyre, a capital letter.

    Returns
    -------
    float
        Greatest speed [km/h].

    Raises
    ------
    MeasurementError
        If the symbol is not in the table.

    Source
    ------
    UN Regulation No. 30, table of speed category symbols.

    Examples
    --------
    >>> tyre_speed_km_h("T")
    190.0
    """
    if symbol not in _SPEEDS_KM_H:
        what = f"speed_symbol is {symbol!r}; the table has {', '.join(_SPEEDS_KM_H)}"
        raise MeasurementError([Fault("M010", "tyre", what, "Read it again off the side wall.")])
    return _SPEEDS_KM_H[symbol]

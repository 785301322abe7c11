"""How dense the air is."""

from __future__ import annotations

from configurator.physics.measurement import ALTITUDE, TEMPERATURE, require
from configurator.units import STANDARD_GRAVITY_M_S2

ZERO_CELSIUS_K = 273.15
_SEA_LEVEL_K = 288.15
_SEA_LEVEL_PA = 101_325.0
_LAPSE_K_PER_M = 0.0065
_GAS_CONSTANT_J_PER_KG_K = 287.05287


def air_density_kg_m3(temperature_c: float, altitude_m: float) -> float:
    """Compute the density of dry air from the day's temperature and the altitude.

    The pressure is the standard atmosphere's at that altitude; the temperature is the day's own,
    so a winter's day has denser air than the standard atmosphere.

    Parameters
    ----------
    temperature_c : float
        Temperature of the air [°C], -60 to 60.
    altitude_m : float
        Altitude above the sea [m], -1000 to 11000.

    Returns
    -------
    float
        Density [kg/m³].

    Raises
    ------
    MeasurementError
        If the temperature or altitude is outside its range.

    Source
    ------
    ISO 2533, standard atmosphere: pressure in the troposphere; ideal gas.

    Examples
    --------
    >>> round(air_density_kg_m3(15.0, 0.0), 4)
    1.225
    """
    require(
        "air density",
        {"temperature_c": (temperature_c, TEMPERATURE), "altitude_m": (altitude_m, ALTITUDE)},
    )
    exponent = STANDARD_GRAVITY_M_S2 / (_GAS_CONSTANT_J_PER_KG_K * _LAPSE_K_PER_M)
    standard_k = _SEA_LEVEL_K - _LAPSE_K_PER_M * altitude_m
    pressure_pa = _SEA_LEVEL_PA * float((standard_k / _SEA_LEVEL_K) ** exponent)
    return pressure_pa / (_GAS_CONSTANT_J_PER_KG_K * (temperature_c + ZERO_CELSIUS_K))

"""The control pilot: how a charging unit tells a vehicle the current it may take."""

from __future__ import annotations

from configurator.errors import Fault, MeasurementError

LEAST_CURRENT_A = 6.0
GREATEST_CURRENT_A = 80.0
_LEAST_DUTY_PERCENT = 8.0
_GREATEST_DUTY_PERCENT = 97.0


def pilot_duty_percent(current_a: float) -> float:
    """Compute the duty cycle by which a charging unit offers a current.

    Parameters
    ----------
    current_a : float
        Current offered in each phase [A], 6 to 80.

    Returns
    -------
    float
        Duty cycle of the pilot [%], 10 to 96.

    Raises
    ------
    MeasurementError
        If the current is outside what the signal can say.

    Source
    ------
    IEC 61851-1 annex A: duty = current / 0.6 up to 51 A, current / 2.5 + 64 above.

    Examples
    --------
    >>> pilot_duty_percent(30.0)
    50.0
    """
    if not LEAST_CURRENT_A <= current_a <= GREATEST_CURRENT_A:
        what = f"current_a is {current_a}; the pilot can say 6 to 80 A"
        raise MeasurementError([Fault("M011", "control pilot", what, "Check the source.")])
    # Between 51 and 52.5 A the vehicle reads a little less than offered, never more.
    return current_a / 0.6 if current_a <= 51 else current_a / 2.5 + 64


def pilot_current_a(duty_percent: float) -> float:
    """Compute the greatest current a vehicle may take at a duty cycle.

    Parameters
    ----------
    duty_percent : float
        Duty cycle of the pilot [%], 8 to 97.

    Returns
    -------
    float
        Greatest current in each phase [A].

    Raises
    ------
    MeasurementError
        If the duty cycle does not stand for a current.

    Source
    ------
    IEC 61851-1 annex A: 6 A from 8 to 10 %, 0.6 A for each percent up to 85 %, 2.5 (duty - 64)
    above, 80 A from 96 to 97 %.

    Examples
    --------
    >>> pilot_current_a(50.0)
    30.0
    """
    if not _LEAST_DUTY_PERCENT <= duty_percent <= _GREATEST_DUTY_PERCENT:
        what = f"duty_percent is {duty_percent}; from 8 to 97 % it stands for a current"
        raise MeasurementError(
            [Fault("M011", "control pilot", what, "Measure again with the vehicle connected.")]
        )
    if duty_percent <= 85:
        return max(0.6 * duty_percent, LEAST_CURRENT_A)
    return min(2.5 * (duty_percent - 64), GREATEST_CURRENT_A)

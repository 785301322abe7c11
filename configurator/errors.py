"""How a fault is said: where, what, why, what to do; all faults of one input together."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, order=True)
class Fault:
    """One fault of an input that a person can mend.

    Examples
    --------
    >>> print(Fault("C003", "roof.yaml:14", 'option "fabrik" does not exist; rules name options',
    ...             'Did you mean "fabric"?'))
    roof.yaml:14: option "fabrik" does not exist; rules name options. Did you mean "fabric"? [C003]
    """

    code: str
    where: str
    what: str
    remedy: str

    def __str__(self) -> str:
        """Say the fault in one line."""
        return f"{self.where}: {self.what}. {self.remedy} [{self.code}]"


class ConfiguratorError(Exception):
    """Anything the tool refuses, with every fault found, ready to show to a person.

    Examples
    --------
    >>> error = ConfiguratorError([Fault("B001", "build.yaml:1", "it is empty", "Write a build.")])
    >>> [fault.code for fault in error.faults]
    ['B001']
    """

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults: tuple[Fault, ...] = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))


class CatalogError(ConfiguratorError):
    """The catalog cannot be used as it is."""


class BuildFileError(ConfiguratorError):
    """A build file cannot be used as it is."""


class ChoiceError(ConfiguratorError):
    """A pick names something that is not offered, or no longer fits."""


class MeasurementError(ConfiguratorError):
    """A quantity is impossible, such as a wheelbase of zero."""


class RecordError(ConfiguratorError):
    """The record of builds cannot be read or written."""


class StaleDraftError(RecordError):
    """Somebody else changed the draft meanwhile; nothing was overwritten."""


class OvertakenError(RecordError):
    """Somebody else did the same a moment before; nothing was written twice."""


class ErasedMeanwhileError(RecordError):
    """The customer was erased while something that names them was made; none of it was kept."""


class LifeError(ConfiguratorError):
    """A step in the life of a build that cannot be taken as things stand."""


class AccountError(ConfiguratorError):
    """An account or a log-in that is refused."""


class DocumentError(ConfiguratorError):
    """A document cannot be made or stored."""

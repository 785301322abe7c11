"""Who may take a step of a build's life."""

from __future__ import annotations

from configurator.build_life.people import Person
from configurator.catalog.models.workshop import RoleId
from configurator.errors import Fault, LifeError


def refuse_other_roles(by: Person, roles: tuple[RoleId, ...], step: str) -> None:
    """Refuse a step that is not of the role somebody wears; whoever works alone takes every one.

    Raises
    ------
    LifeError
        Naming who may take it.

    Examples
    --------
    >>> refuse_other_roles(Person(name="Ann", role="engineer"), ("engineer",), "issue a spec")
    """
    if faults := role_faults(by, roles, step):
        raise LifeError(faults)


def role_faults(by: Person, roles: tuple[RoleId, ...], step: str) -> list[Fault]:
    """Tell that a step is not of the role somebody wears, to be told with other faults.

    Examples
    --------
    >>> role_faults(Person(name="Ann", role="engineer"), ("manager",), "hand over")[0].remedy
    'Let the manager do it.'
    """
    if by.is_solo or by.role in roles:
        return []
    allowed = " or ".join(role.replace("-", " ") for role in roles)
    what = f"{by.in_words}, is not one to {step}"
    return [Fault("P130", "Roles", what, f"Let the {allowed} do it.")]

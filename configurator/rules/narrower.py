"""The same problem with a few things more that must hold."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from configurator.rules.engine import Engine
from configurator.rules.problem import ConditionalLimit, Implication, LazyLimit


def narrower_engine(
    engine: Engine,
    implications: Iterable[Implication] = (),
    limits: Iterable[ConditionalLimit] = (),
    lazy_limits: Iterable[LazyLimit] = (),
) -> Engine:
    """Make an engine for fewer builds: those that keep some rules and limits more.

    Parameters
    ----------
    engine : Engine
        Of the wider problem; it stays as it is.
    implications, limits, lazy_limits
        What must hold too.

    Raises
    ------
    ValueError
        If what is added does not fit the groups.

    Examples
    --------
    >>> from configurator.rules.problem import Domain, Problem, Quantity
    >>> wide = Engine(Problem((Domain("roof", ("steel", "canvas")),), ()))
    >>> light = ConditionalLimit("light", {}, Quantity(0, {("roof", "steel"): 60}), 50)
    >>> narrower_engine(wide, limits=[light]).availability({})
    {'roof': {'steel': False, 'canvas': True}}
    """
    wider = engine.problem
    problem = replace(
        wider,
        implications=(*wider.implications, *implications),
        conditional_limits=(*wider.conditional_limits, *limits),
        lazy_limits=(*wider.lazy_limits, *lazy_limits),
    )
    return Engine(problem, engine)

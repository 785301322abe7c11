"""Builds nearest to what was picked or preferred, and the first of equally good ones."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from configurator.rules.options import Build
from configurator.rules.problem import Domain, Quantity
from configurator.rules.prover import Prover
from configurator.rules.row_table import Options
from configurator.rules.rows import Row


def departures(domains: Sequence[Domain], wanted: Mapping[str, str]) -> Quantity:
    """Count the groups that do not take the wanted option.

    Examples
    --------
    >>> domains = (Domain("roof", ("steel", "canvas")), Domain("floor", ("cork", "oak")))
    >>> departures(domains, {"roof": "steel"}).of({"roof": "canvas", "floor": "oak"})
    1
    """
    return Quantity(
        0,
        {
            (domain.id, option): 1
            for domain in domains
            if domain.id in wanted
            for option in domain.options
            if option != wanted[domain.id]
        },
    )


def first_build(prover: Prover, build: Build, options: Options, extra: Sequence[Row]) -> Build:
    """Give the build with the earliest options, settling one group after the other.

    Parameters
    ----------
    prover : Prover
        All rules.
    build : tuple of int
        Some build within the options that keeps every rule and extra row.
    options : tuple of int
        What may be taken.
    extra : sequence of Row
        What must hold beside the rules.
    """
    for group, mask in enumerate(options):
        for place in range(build[group] + 1):
            if not mask >> place & 1:
                continue
            asked = (*options[:group], 1 << place, *options[group + 1 :])
            if place < build[group]:
                earlier = prover.some_build(asked, extra=extra)
                if earlier is None:
                    continue
                build = earlier
            options = asked
            break
    return build

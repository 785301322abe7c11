"""Names in a mapping of group to options, as rules and texts have them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from configurator.catalog.cross_checks import names
from configurator.catalog.draft import Draft
from configurator.errors import Fault


def choice_faults(
    draft: Draft, at: names.Place, choices: Mapping[str, tuple[str, ...]]
) -> Iterator[Fault]:
    """Yield groups and options that do not exist.

    Parameters
    ----------
    draft : Draft
        The catalog as it was read.
    at : Place
        Where the mapping stands.
    choices : mapping
        Group → options.

    Yields
    ------
    Fault
        One for each unknown name.
    """
    groups = names.known_groups(draft)
    for group, options in choices.items():
        yield from names.named(at.at(group), group, groups)
        if group in groups.names:
            yield from names.all_named(at.at(group), options, names.known_options(draft, group))

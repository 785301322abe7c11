"""The engine: exact answers about all builds that a problem allows."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from threading import RLock
from types import MappingProxyType
from typing import TypeAlias

from configurator.rules.availability import Availability
from configurator.rules.changes import departures
from configurator.rules.compiling import compiled_rules
from configurator.rules.conflict import minimal_conflict
from configurator.rules.extremes import least_build, least_build_in_turn, some_least_build
from configurator.rules.options import option_bits
from configurator.rules.problem import Conflict, Problem, Quantity
from configurator.rules.propagation import Rules
from configurator.rules.sums import Sum, sum_of

_NO_RESTRICTION: Mapping[str, frozenset[str]] = MappingProxyType({})
_Finder: TypeAlias = Callable[[Rules, Sequence[Sum], int], int]


class Engine:
    """Answers questions about one problem; several threads may ask at once.

    Every answer is exact and depends on the question alone: neither on the order of picks nor on
    what was asked before. Where several builds answer equally well, the one with the earliest
    options is given, group by group in the order of the problem. An id that the problem does not
    have raises ValueError.

    Parameters
    ----------
    problem : Problem
        The groups, implications and limits; compiled once.

    Raises
    ------
    ValueError
        If the problem contradicts itself in form, such as an id used twice.

    Examples
    --------
    >>> from configurator.rules.problem import Domain, Implication
    >>> problem = Problem(
    ...     domains=(Domain("roof", ("steel", "canvas")), Domain("floor", ("cork", "carpet"))),
    ...     implications=(
    ...         Implication(
    ...             "dry", {"floor": frozenset({"carpet"})}, {"roof": frozenset({"steel"})}
    ...         ),
    ...     ),
    ...     limits=(),
    ... )
    >>> engine = Engine(problem)
    >>> engine.availability({"roof": "canvas"})["floor"]
    {'cork': True, 'carpet': False}
    >>> engine.conflict({"roof": "canvas", "floor": "carpet"}).implications
    ('dry',)
    """

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self._names = option_bits(problem.domains)
        self._rules = compiled_rules(problem, self._names)
        self._availability = Availability(self._rules, self._names)
        self._lock = RLock()

    def is_possible(self, picks: Mapping[str, str]) -> bool:
        """Tell whether some build has all the picks.

        Parameters
        ----------
        picks : mapping of str to str
            The option taken, by group.
        """
        picked = self._names.pick_mask(picks)
        with self._lock:
            return bool(self._availability.build_with(picked))

    def availability(self, picks: Mapping[str, str]) -> dict[str, dict[str, bool]]:
        """Tell for each option of each group whether some build has it beside the picks.

        A pick is lifted for the options of its own group: the answer there is what it could be
        swapped for.

        Parameters
        ----------
        picks : mapping of str to str
            The option taken, by group.

        Returns
        -------
        dict of str to dict of str to bool
            By group and option, in the order of the problem.
        """
        picked = self._names.pick_mask(picks)
        with self._lock:
            alive = self._availability.alive(picked)
        answer: dict[str, dict[str, bool]] = {group: {} for group in self._names.group_ids}
        for (group, option), bit in self._names.bit_of.items():
            answer[group][option] = bool(alive & bit)
        return answer

    def conflict(self, picks: Mapping[str, str]) -> Conflict:
        """Explain why no build has all the picks.

        Parameters
        ----------
        picks : mapping of str to str
            The option taken, by group.

        Returns
        -------
        Conflict
            Picks, implications and limits that cannot hold together; without any one of them the
            rest can.

        Raises
        ------
        ValueError
            If the picks are possible, so that there is nothing to explain.
        """
        picked = self._names.pick_mask(picks)
        with self._lock:
            if self._availability.build_with(picked):
                message = f"picks: {dict(picks)} are possible together; nothing to explain."
                raise ValueError(message)
            known = self._availability.known_build
            return minimal_conflict(self._rules, self._names, picked, known)

    def smallest_change(
        self, picks: Mapping[str, str], keep: tuple[str, str], cost: Quantity
    ) -> dict[str, str] | None:
        """Find the fewest other picks to change so that one option becomes possible.

        Parameters
        ----------
        picks : mapping of str to str
            The option taken, by group.
        keep : tuple of str
            The group and the option wanted; a pick of the same group gives way to it.
        cost : Quantity
            Among equally few changes, the one whose cheapest build costs least is taken.

        Returns
        -------
        dict of str to str or None
            The new option for each changed group, or None when nothing helps.
        """
        others = {group: option for group, option in picks.items() if group != keep[0]}
        wanted = self._names.pick_mask(dict([keep]))
        nearest = self._least_in_turn(departures(self._names, others), cost, wanted)
        if nearest is None:
            return None
        return {group: new for group, new in nearest.items() if others.get(group, new) != new}

    def minimise(
        self,
        quantity: Quantity,
        picks: Mapping[str, str],
        allowed: Mapping[str, frozenset[str]] = _NO_RESTRICTION,
    ) -> tuple[int, dict[str, str]] | None:
        """Find the exact least of a quantity over all builds with the picks.

        Parameters
        ----------
        quantity : Quantity
            What is to be least.
        picks : mapping of str to str
            The option taken, by group.
        allowed : mapping of str to frozenset of str
            Groups that may take only some of their options.

        Returns
        -------
        tuple of int and dict of str to str, or None
            The least and a build that has it, or None when no build is left.
        """
        return self._least(least_build, [quantity], picks, allowed)

    def maximise(
        self,
        quantity: Quantity,
        picks: Mapping[str, str],
        allowed: Mapping[str, frozenset[str]] = _NO_RESTRICTION,
    ) -> tuple[int, dict[str, str]] | None:
        """Find the exact greatest of a quantity; see `minimise`."""
        return self._least(least_build, [quantity], picks, allowed, greatest=True)

    def least_greatest(
        self, quantities: Sequence[Quantity], picks: Mapping[str, str]
    ) -> tuple[int, dict[str, str]] | None:
        """Find the least that the greatest of several quantities can be.

        Parameters
        ----------
        quantities : sequence of Quantity
            At least one.
        picks : mapping of str to str
            The option taken, by group.

        Returns
        -------
        tuple of int and dict of str to str, or None
            The value and a build that has it, or None when the picks are impossible.

        Raises
        ------
        ValueError
            If there is no quantity.
        """
        return self._least(least_build, quantities, picks)

    def completion(
        self, picks: Mapping[str, str], preferred: Mapping[str, str], cost: Quantity
    ) -> dict[str, str] | None:
        """Complete the picks with as many preferred options as can be, then at least cost.

        Parameters
        ----------
        picks : mapping of str to str
            The option taken, by group.
        preferred : mapping of str to str
            The option preferred, by group; a pick of the same group goes before it.
        cost : Quantity
            Decides among builds with equally many preferred options.

        Returns
        -------
        dict of str to str or None
            A complete build, or None when the picks are impossible.
        """
        picked = self._names.pick_mask(picks)
        return self._least_in_turn(departures(self._names, preferred), cost, picked)

    def extreme(
        self,
        quantity: Quantity,
        picks: Mapping[str, str],
        allowed: Mapping[str, frozenset[str]] = _NO_RESTRICTION,
        *,
        greatest: bool = False,
    ) -> tuple[int, dict[str, str]] | None:
        """Find the least or greatest of a sum, with some build that has it.

        The sum is the same whenever it is asked; of several builds that have it any may come. It
        is quicker than `minimise` and `maximise`, which always name the same build.

        Parameters
        ----------
        quantity, picks, allowed
            As for `minimise`.
        greatest : bool
            Whether the greatest is wanted instead of the least.

        Returns
        -------
        tuple of int and dict of str to str, or None
            The sum and a build that has it, or None when no build is left.
        """
        return self._least(some_least_build, [quantity], picks, allowed, greatest=greatest)

    def least_peak(self, quantities: Sequence[Quantity], picks: Mapping[str, str]) -> int | None:
        """Find the least that the greatest of several sums can be; None when nothing is possible.

        Quicker than `least_greatest`, which also names one certain build.
        """
        found = self._least(some_least_build, quantities, picks)
        return None if found is None else found[0]

    def _least(
        self,
        find: _Finder,
        quantities: Sequence[Quantity],
        picks: Mapping[str, str],
        allowed: Mapping[str, frozenset[str]] = _NO_RESTRICTION,
        *,
        greatest: bool = False,
    ) -> tuple[int, dict[str, str]] | None:
        if not quantities:
            message = "quantities: there are none; the greatest of nothing has no value. Give one."
            raise ValueError(message)
        names = self._names
        picked, left_out = names.pick_mask(picks), names.left_out(allowed)
        totals = [sum_of(quantity, names) for quantity in quantities]
        if greatest:
            totals = [total.opposite() for total in totals]
        with self._lock:
            build = find(self._rules, totals, self._availability.domain(picked, left_out))
        if not build:
            return None
        choices = names.choices(build)
        return max(quantity.of(choices) for quantity in quantities), choices

    def _least_in_turn(self, first: Sum, cost: Quantity, picked: int) -> dict[str, str] | None:
        second = sum_of(cost, self._names)
        with self._lock:
            domain = self._availability.domain(picked)
            build = least_build_in_turn(self._rules, first, second, domain)
        return self._names.choices(build) if build else None

"""The engine: exact answers about all builds that a problem allows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from threading import RLock
from types import MappingProxyType
from typing import TypeVar

from configurator.rules.availability import Availability
from configurator.rules.compiling import compiled
from configurator.rules.conflict import minimal_conflict, taking
from configurator.rules.least import least_build
from configurator.rules.nearest import departures, first_build
from configurator.rules.options import Build
from configurator.rules.problem import Conflict, Problem, Quantity, Reach
from configurator.rules.prover import Prover
from configurator.rules.row_table import Options
from configurator.rules.rows import IMPLIED, Row, Sum

Told = TypeVar("Told")
_NO_RESTRICTION: Mapping[str, frozenset[str]] = MappingProxyType({})


class Engine:
    """Answers questions about one problem; several threads may ask at once.

    Every answer is exact and depends on the question alone: neither on the order of picks nor on
    what was asked before. Where several builds answer equally well, the one with the earliest
    options is given, group by group in the order of the problem. An id that the problem does not
    have raises ValueError. `picks` are the options taken, by group.

    Parameters
    ----------
    problem : Problem
        The groups, implications and limits; compiled once.
    wider : Engine, optional
        Of the same groups without some of the rules and limits; what it learned is used.

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
    ... )
    >>> engine = Engine(problem)
    >>> engine.availability({"roof": "canvas"})["floor"]
    {'cork': True, 'carpet': False}
    >>> engine.conflict({"roof": "canvas", "floor": "carpet"}).implications
    ('dry',)
    """

    def __init__(self, problem: Problem, wider: Engine | None = None) -> None:
        self.problem = problem
        self._lock = RLock()
        self._prover: Prover = compiled(problem) if wider is None else wider._narrower(problem)
        self._places = self._prover.places
        self._availability = Availability(self._prover)

    def is_possible(self, picks: Mapping[str, str]) -> bool:
        """Tell whether some build has all the picks."""
        picked = self._places.picks(picks)
        with self._lock:
            return self._availability.build_with(picked) is not None

    def availability(self, picks: Mapping[str, str]) -> dict[str, dict[str, bool]]:
        """Tell for each option of each group whether some build has it beside the picks.

        A pick is lifted for the options of its own group: the answer there is what it could be
        swapped for. By group and option, in the order of the problem.
        """
        with self._lock:
            alive = self._availability.alive(self._places.picks(picks)).tolist()
        return self._by_option([flag == 1 for flag in alive])

    def availability_so_far(self, picks: Mapping[str, str]) -> dict[str, dict[str, bool | None]]:
        """Tell at once what is known of `availability`; None where that takes a longer question."""
        with self._lock:
            alive, unknown = self._availability.so_far(self._places.picks(picks))
        told = zip(alive.tolist(), unknown.tolist(), strict=True)
        return self._by_option([None if open_ else flag == 1 for flag, open_ in told])

    def conflict(self, picks: Mapping[str, str]) -> Conflict:
        """Explain why no build has all the picks.

        What is given cannot hold together; without any one member of it the rest can. Possible
        picks raise ValueError: there is nothing to explain.
        """
        picked = self._places.picks(picks)
        with self._lock:
            if self._availability.build_with(picked) is not None:
                message = f"picks: {dict(picks)} are possible together; nothing to explain."
                raise ValueError(message)
            return minimal_conflict(self._prover, picked)

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
        allowed : mapping of str to frozenset of str
            Groups that may take only some of their options.

        Returns
        -------
        tuple of int and dict of str to str, or None
            The least and a build that has it, or None when no build is left.
        """
        options = self._options(picks, allowed)
        with self._lock:
            build = self._least([self._sum(quantity)], options)
            if build is None:
                return None
            capped = self._capped(quantity, build)
            return self._told(quantity, first_build(self._prover, build, options, [capped]))

    def completion(
        self, picks: Mapping[str, str], preferred: Mapping[str, str], cost: Quantity
    ) -> dict[str, str] | None:
        """Complete the picks with as many preferred options as can be, then at least cost.

        Parameters
        ----------
        preferred : mapping of str to str
            The option preferred, by group; a pick of the same group goes before it.
        cost : Quantity
            Decides among builds with equally many preferred options.

        Returns
        -------
        dict of str to str or None
            A complete build, or None when the picks are impossible.
        """
        return self._least_in_turn(departures(self.problem.domains, preferred), cost, picks)

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
        is quicker than `minimise`, which always names the same build.

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
        options = self._options(picks, allowed)
        total = self._sum(quantity)
        with self._lock:
            build = self._least([total.opposite() if greatest else total], options)
        return None if build is None else self._told(quantity, build)

    def reach(
        self,
        quantity: Quantity,
        picks: Mapping[str, str],
        allowed: Mapping[str, frozenset[str]] = _NO_RESTRICTION,
        *,
        greatest: bool = False,
        gap: int,
    ) -> Reach | None:
        """Bound the least or greatest of a sum, exactly or where that takes long within a gap.

        Parameters
        ----------
        quantity, picks, allowed, greatest
            As for `extreme`.
        gap : int
            No build passes the bound, and one comes within less than the gap of it.
        """
        options = self._options(picks, allowed)
        total = self._sum(quantity)
        if not all(options):
            return None
        with self._lock:
            sought = [total.opposite() if greatest else total]
            known = self._availability.best_known(options, sought)
            found = least_build(self._prover, sought, options, known=known, gap=gap)
            if found is None:
                return None
            self._availability.pool.add([found.build])
        value, build = self._told(quantity, found.build)
        return Reach(value + found.missed_by * (1 if greatest else -1), value, build)

    def least_peak(self, quantities: Sequence[Quantity], picks: Mapping[str, str]) -> int | None:
        """Find the least that the greatest of some sums can be; None when nothing is possible."""
        if not quantities:
            message = "quantities: there are none; the greatest of nothing has no value. Give one."
            raise ValueError(message)
        totals = [self._sum(quantity) for quantity in quantities]
        with self._lock:
            build = self._least(totals, self._options(picks, _NO_RESTRICTION))
        if build is None:
            return None
        choices = self._places.choices(build)
        return max(quantity.of(choices) for quantity in quantities)

    def _narrower(self, problem: Problem) -> Prover:
        with self._lock:
            return compiled(problem, self._prover)

    def _by_option(self, values: Sequence[Told]) -> dict[str, dict[str, Told]]:
        starts = self._places.starts
        return {
            domain.id: {o: values[starts[at] + n] for n, o in enumerate(domain.options)}
            for at, domain in enumerate(self.problem.domains)
        }

    def _sum(self, quantity: Quantity) -> Sum:
        with self._lock:
            return self._prover.sums.of(quantity)

    def _options(self, picks: Mapping[str, str], allowed: Mapping[str, frozenset[str]]) -> Options:
        options = list(taking(self._prover, self._places.picks(picks)))
        for group, some in allowed.items():
            options[self._places.position(group)] &= self._places.mask(group, some)
        return tuple(options)

    def _capped(self, quantity: Quantity, build: Build) -> Row:
        total = self._sum(quantity)
        return Row(IMPLIED, (), total, total.above_constant(self._places, build))

    def _told(self, quantity: Quantity, build: Build) -> tuple[int, dict[str, str]]:
        choices = self._places.choices(build)
        return quantity.of(choices), choices

    def _least(
        self,
        totals: Sequence[Sum],
        options: Options,
        extra: Sequence[Row] = (),
        known: Build | None = None,
    ) -> Build | None:
        if not all(options):
            return None
        if not extra:
            known = self._availability.best_known(options, totals)
        found = least_build(self._prover, totals, options, known=known, extra=extra)
        if found is None:
            return None
        self._availability.pool.add([found.build])
        return found.build

    def _least_in_turn(
        self, first: Quantity, second: Quantity, picks: Mapping[str, str]
    ) -> dict[str, str] | None:
        options = self._options(picks, _NO_RESTRICTION)
        with self._lock:
            build = self._least([self._sum(first)], options)
            if build is None:
                return None
            extra = [self._capped(first, build)]
            build = self._least([self._sum(second)], options, extra, build)
            if build is None:
                message = "least in turn: the second sum has no build though the first has."
                raise RuntimeError(message)
            extra.append(self._capped(second, build))
            return self._places.choices(first_build(self._prover, build, options, extra))

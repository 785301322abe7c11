"""Which options are still possible, each exactly, with as few questions as can be."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Collection, Sequence

import numpy as np

from configurator.rules.arrays import Flags, Wholes
from configurator.rules.conflict import taking
from configurator.rules.options import Build, Picks
from configurator.rules.prover import Prover
from configurator.rules.row_table import Options
from configurator.rules.rows import Sum
from configurator.rules.witness_loops import credit, neighbours
from configurator.rules.witnesses import WitnessPool

_CONTEXTS_KEPT = 300
_WITNESSES_VARIED = 12


class DeadOptions:
    """Options known to be impossible under some picks, and so under any more picks."""

    def __init__(self) -> None:
        self._under: OrderedDict[frozenset[tuple[int, int]], set[int]] = OrderedDict()

    def add(self, picks: Picks, dead: set[int]) -> None:
        """Remember options, of groups without a pick, that picks rule out."""
        if dead:
            self._under.setdefault(frozenset(picks), set()).update(dead)
            self._under.move_to_end(frozenset(picks))
            if len(self._under) > _CONTEXTS_KEPT:
                self._under.popitem(last=False)

    def given(self, picks: Picks) -> set[int]:
        """Give every option known to be out; for a picked group, with its own pick lifted."""
        taken = frozenset(picks)
        dead: set[int] = set()
        for fewer, out in self._under.items():
            if fewer <= taken:
                dead |= out
        return dead


class Availability:
    """Answers for one problem, keeping what earlier answers have shown."""

    def __init__(self, prover: Prover) -> None:
        self._prover = prover
        self._places = prover.places
        self._starts = np.array(self._places.starts, np.int64)
        self.pool = WitnessPool(len(self._places.domains))
        self._dead = DeadOptions()

    def build_with(self, picks: Picks) -> Build | None:
        """Give some build that has all the picked options, or None when there is none."""
        build = self.pool.with_all(picks)
        if build is None:
            dead = self._dead.given(picks)
            if any(self._places.starts[group] + place in dead for group, place in picks):
                return None
            build = self._prover.some_build(taking(self._prover, picks))
            if build is not None:
                self.pool.add([build])
        return build

    def best_known(self, options: Options, totals: Sequence[Sum]) -> Build | None:
        """Give the build found before within some options that has the least greatest sum."""
        widest = max(self._places.every, default=0).bit_length()
        flags = [m >> n & 1 for m in options for n in range(widest)]
        allowed = np.array(flags, np.int64).reshape(len(options), widest)
        builds = self.pool.within(allowed)
        if not builds.size:
            return None
        flat = builds + self._starts[:-1]
        peaks = [total.constant + total.weights[flat].sum(axis=1) for total in totals]
        best = int(np.argmin(np.max(peaks, axis=0)))
        return tuple(builds[best].tolist())

    def so_far(self, picks: Picks) -> tuple[Flags, Flags]:
        """Flag the options known to be possible, and those not known yet; asks no long question."""
        _, alive, unknown, _ = self._seen(picks)
        open_groups = set(range(len(self._places.domains))) - {group for group, _ in picks}
        contexts = [(picks, open_groups)]
        contexts += [(tuple(o for o in picks if o != pick), {pick[0]}) for pick in picks]
        for context, groups in contexts:
            asked = self._asked_of(groups, unknown)
            narrowed = self._prover.narrowed(taking(self._prover, context)) if asked else None
            for group, option in asked:
                place = option - self._places.starts[group]
                if narrowed is None or not narrowed[group] >> place & 1:
                    alive[option] = unknown[option] = 0
        alive[unknown == 1] = 0
        return alive, unknown

    def alive(self, picks: Picks) -> Flags:
        """Flag the options that some build has together with the picks of all other groups."""
        picked, alive, unknown, is_possible = self._seen(picks)
        if not is_possible and (build := self.build_with(picks)) is not None:
            self._see([build], picked, unknown)
            self._vary(build, picked, unknown)
            is_possible = True
        open_groups = {group for group, place in enumerate(picked) if place < 0}
        self._settle(picks, open_groups, picked, unknown, alive, is_possible=is_possible)
        for pick in picks:
            others = tuple(other for other in picks if other != pick)
            self._settle(others, {pick[0]}, picked, unknown, alive, is_possible=True)
        return alive

    def _seen(self, picks: Picks) -> tuple[Wholes, Flags, Flags, bool]:
        """Use what is known, as far as no question is asked.

        Gives the picks by group, the options not ruled out, those not settled, and whether a build
        with all the picks is known.
        """
        unknown = np.ones(self._places.starts[-1], np.uint8)
        alive = np.ones_like(unknown)
        dead = list(self._dead.given(picks))
        unknown[dead] = alive[dead] = 0
        picked = np.full(len(self._places.domains), -1, np.int64)
        for group, place in picks:
            picked[group] = place
        compatible = credit(self._starts, self.pool.builds, picked, unknown)
        known = [tuple(build) for build in self.pool.builds[compatible].tolist()]
        for build in known[: -_WITNESSES_VARIED - 1 : -1]:
            self._vary(build, picked, unknown)
        return picked, alive, unknown, bool(known)

    def _asked_of(self, groups: Collection[int], unknown: Flags) -> list[tuple[int, int]]:
        """List the unsettled options of some groups with their group."""
        return [
            (group, option)
            for group in sorted(groups)
            for option in range(self._starts[group], self._starts[group + 1])
            if unknown[option]
        ]

    def _settle(
        self,
        context: Picks,
        groups: Collection[int],
        picked: Wholes,
        unknown: Flags,
        alive: Flags,
        *,
        is_possible: bool,
    ) -> None:
        """Answer what is still unknown among the options of some groups, given some picks."""
        asked = self._asked_of(groups, unknown)
        if not asked:
            return
        narrowed = self._prover.narrowed(taking(self._prover, context)) if is_possible else None
        out: set[int] = set()
        for group, option in asked:
            if not unknown[option]:
                continue
            place = option - self._places.starts[group]
            build = None
            if narrowed is not None and narrowed[group] >> place & 1:
                options = (*narrowed[:group], 1 << place, *narrowed[group + 1 :])
                build = self._prover.some_build(options)
            unknown[option] = 0
            if build is None:
                out.add(option)
                alive[option] = 0
            else:
                self._see([build], picked, unknown)
                self._vary(build, picked, unknown)
        self._dead.add(context, out)

    def _see(self, builds: list[Build], picked: Wholes, unknown: Flags) -> None:
        self.pool.add(builds)
        credit(self._starts, np.array(builds, np.int64), picked, unknown)

    def _vary(self, build: Build, picked: Wholes, unknown: Flags) -> None:
        """Try each unknown option in a known build.

        One that lacks a pick can only tell of that pick's group, and one change more of none.
        """
        lacking = [g for g, place in enumerate(picked.tolist()) if place not in {-1, build[g]}]
        wanted = unknown
        if lacking:
            wanted = np.zeros_like(unknown)
            part = slice(self._starts[lacking[0]], self._starts[lacking[0] + 1])
            wanted[part] = unknown[part]
        if not wanted.any():
            return
        rows, _, work = self._prover.table.arrays()
        found = neighbours(rows, work.bounds, np.array(build, np.int64), wanted)
        if not found.size:
            return
        changed = [(*build[:group], place, *build[group + 1 :]) for group, place in found.tolist()]
        kept = self._prover.allowed(changed)
        if kept:
            self._see(kept, picked, unknown)

"""Which options are still possible, each exactly, with as few questions as can be."""

from __future__ import annotations

from configurator.rules.extremes import any_build
from configurator.rules.options import ALWAYS, OptionBits, bits_of
from configurator.rules.propagation import Rules, narrowed
from configurator.rules.search import light_ranks
from configurator.rules.witnesses import Neighbours, WitnessPool

_CONTEXTS_KEPT = 300
_WITNESSES_VARIED = 12


class DeadOptions:
    """Options known to be impossible under some picks, and so under any more picks."""

    def __init__(self) -> None:
        self._under: dict[int, int] = {}

    def add(self, picked: int, dead: int) -> None:
        """Remember options, of groups without a pick, that picks rule out."""
        self._under[picked] = self._under.pop(picked, 0) | dead
        if len(self._under) > _CONTEXTS_KEPT:
            del self._under[next(iter(self._under))]

    def given(self, picked: int) -> int:
        """Give every option known to be out; for a picked group, with its own pick lifted."""
        dead = 0
        for fewer, out in self._under.items():
            if fewer & picked == fewer:
                dead |= out
        return dead


class Availability:
    """Answers for one problem, keeping what earlier answers have shown."""

    def __init__(self, rules: Rules, names: OptionBits) -> None:
        self._rules = rules
        self._names = names
        self._neighbours = Neighbours(rules, names)
        self._root = narrowed(rules, names.everything)
        self._examined = len(rules.every)
        self._pool = WitnessPool()
        self._dead = DeadOptions()

    def domain(self, picked: int, left_out: int = 0) -> int:
        """Give what is left, narrowed, of the options not left out when some are picked; or 0."""
        if self._examined < len(self._rules.every):
            self._root = narrowed(self._rules, self._root, examined=self._examined)
            self._examined = len(self._rules.every)
        domain = self._names.within(self._root & ~left_out, picked)
        if not all(domain & mask for mask in self._names.group_masks):
            return 0
        return narrowed(self._rules, domain, self._root ^ domain, self._examined)

    def build_with(self, picked: int) -> int:
        """Give some build that has all the picked options, or 0 when there is none."""
        build = self._pool.with_all(picked)
        if not build and not self._dead.given(picked) & picked:
            build = any_build(self._rules, self.domain(picked))
            if build:
                self._pool.add(build)
        return build

    def known_build(self, picked: int) -> int:
        """Give a build already found that has all the picked options, or 0."""
        return self._pool.with_all(picked)

    def alive(self, picked: int) -> int:
        """Give the options that some build has together with the picks of all other groups."""
        sweep = _Sweep(self._names, picked, self._dead.given(picked))
        compatible = [build for build in self._pool if sweep.see(build)]
        build = self.build_with(picked)
        if build:
            sweep.see(build)
            compatible.append(build)
        else:
            self._rule_out(sweep, picked, sweep.unknown & ~sweep.picked_groups)
        for known in compatible[: -_WITNESSES_VARIED - 1 : -1]:
            self._vary(sweep, known)
        self._settle(sweep, picked, ~sweep.picked_groups)
        for bit in bits_of(picked):
            self._settle(sweep, picked ^ bit, sweep.mask_of(bit))
        return sweep.alive

    def _settle(self, sweep: _Sweep, context: int, options: int) -> None:
        """Answer what is still unknown among some options, given the picks of a context."""
        if not sweep.unknown & options:
            return
        domain = self.domain(context)
        self._rule_out(sweep, context, sweep.unknown & options & ~domain)
        if not domain:
            return
        examined = len(self._rules.every)
        ranks = light_ranks(self._rules, domain)
        for option in bits_of(sweep.unknown & options):
            if not sweep.unknown & option:
                continue
            lost = domain & sweep.mask_of(option) ^ option
            asked = narrowed(self._rules, domain ^ lost, lost, examined)
            build = any_build(self._rules, asked, ranks)
            if build:
                sweep.see(build)
                self._pool.add(build)
                self._vary(sweep, build)
            else:
                self._rule_out(sweep, context, option)

    def _vary(self, sweep: _Sweep, build: int) -> None:
        """Try each unknown option in a known build."""
        if not sweep.unknown:
            return
        witness = self._neighbours.witness(build)
        near = (self._neighbours.changed(witness, option) for option in bits_of(sweep.unknown))
        telling = [changed for changed in near if changed and sweep.would_tell(changed)]
        for changed in self._rules.kept_by_lazies(telling):
            sweep.see(changed)
            self._pool.add(changed)

    def _rule_out(self, sweep: _Sweep, context: int, options: int) -> None:
        sweep.unknown &= ~options
        self._dead.add(context, options)


class _Sweep:
    """What one question has shown so far: options that are possible, and options unsettled."""

    def __init__(self, names: OptionBits, picked: int, dead: int) -> None:
        self._names = names
        self._picked = picked
        self.picked_groups = sum(self.mask_of(bit) for bit in bits_of(picked))
        self.alive = 0
        self.unknown = names.everything & ~ALWAYS & ~dead

    def mask_of(self, option: int) -> int:
        """Give the mask of an option's group."""
        return self._names.group_masks[self._names.position_of[option]]

    def see(self, build: int) -> int:
        """Credit a build's options; give those that were news.

        A build with all the picks counts for every group; one that lacks a single pick counts
        for that pick's group.
        """
        news = self.would_tell(build)
        self.alive |= news
        self.unknown ^= news
        return news

    def would_tell(self, build: int) -> int:
        """Give the options still unknown that a build settles if no rule refuses it."""
        missing = self._picked & ~build
        if missing & (missing - 1):
            return 0
        return self.unknown & (build & self.mask_of(missing) if missing else build)

"""The answer to wishes: the best complete builds, or the least that would have to give way."""

from __future__ import annotations

from collections.abc import Sequence

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.fact_names import FACT_LABELS
from configurator.build_spec.sentences import contradiction_sentence, listed, option_name
from configurator.build_spec.wish_answer import WishAnswer, WishMissed
from configurator.build_spec.wish_engine import WishEngine, wish_engine
from configurator.build_spec.wish_faults import wish_faults
from configurator.build_spec.wish_giving_way import GivenUp, least_way_given, smallest_sets
from configurator.build_spec.wish_kinds import KindOfBuild, other_kinds
from configurator.build_spec.wish_telling import told_builds
from configurator.build_spec.wish_words import missed_words, short_by, short_fact_words
from configurator.catalog.models.build import BuildInput
from configurator.errors import ChoiceError

MOST_BUILDS = 3
"""More would not be looked at."""


def answer_wishes(compiled: Compiled, build: BuildInput) -> WishAnswer:
    """Answer a customer's wishes.

    All builds told keep every rule and limit and the choices marked to be kept. Best is the build
    that meets the wishes and, in turn, the preferences in their order, as many of the customer's
    other choices as possible, the least price.

    Parameters
    ----------
    compiled : Compiled
        The build's facts, rules and engine.
    build : BuildInput
        With wishes, preferences and marks; any may be missing.

    Returns
    -------
    WishAnswer
        Where not all wishes can be met, the smallest sets of wishes to give up and, for each wish
        that alone could give way, by how much at least.

    Raises
    ------
    ChoiceError
        If a wish, preference or mark cannot be understood; all faults together.
    """
    faults = wish_faults(compiled, build)
    if faults:
        raise ChoiceError(faults)
    wishing = wish_engine(compiled, build)
    if not compiled.engine.is_possible(wishing.kept):
        conflict = compiled.engine.conflict(wishing.kept)
        said = contradiction_sentence(compiled, conflict)
        return WishAnswer(all_met=False, builds=(), must_keeps_in_the_way=said)
    best = wishing.best(wishing.every_wish)
    if best is None:
        return _answer_to_too_many(wishing)
    first = KindOfBuild(best, _what_is_best(build))
    kinds = other_kinds(wishing, wishing.every_wish, [first], MOST_BUILDS)
    return WishAnswer(all_met=True, builds=told_builds(wishing, kinds))


def _what_is_best(build: BuildInput) -> str:
    if build.preferences or set(build.choices) - set(build.must_keep):
        return "keeps most of what was preferred and chosen"
    return "the cheapest"


def _answer_to_too_many(wishing: WishEngine) -> WishAnswer:
    """Answer wishes that cannot all be met."""
    sets = smallest_sets(wishing, MOST_BUILDS)
    # How near a build comes costs questions; of sets of several wishes only those told are asked.
    asked = sets.every if len(sets.every[0]) == 1 else sets.best
    ways = {numbers: least_way_given(wishing, numbers) for numbers in asked}
    wishes = [target.wish for target in wishing.targets]
    return WishAnswer(
        all_met=False,
        builds=told_builds(
            wishing, _nearest_builds(wishing, [ways[numbers] for numbers in sets.best])
        ),
        give_up=tuple(tuple(wishes[number] for number in numbers) for numbers in sets.every),
        missed=tuple(
            _missed(wishing, numbers[0], value)
            for numbers in sets.every
            if len(numbers) == 1 and (value := ways[numbers].reached[0]) is not None
        ),
        must_keeps_in_the_way=_marks_in_the_way(wishing),
    )


def _nearest_builds(wishing: WishEngine, sets: Sequence[GivenUp]) -> list[KindOfBuild]:
    """Find for each set the build that comes nearest; of one set alone, other kinds too."""
    kinds = []
    for given_up in sets:
        found = wishing.best(wishing.every_wish - set(given_up.numbers), given_up.bounds)
        if found is not None:
            kinds.append(KindOfBuild(found, _gives_way_on(wishing, given_up)))
    if len(sets) == 1:
        held = wishing.every_wish - set(sets[0].numbers)
        return other_kinds(wishing, held, kinds, MOST_BUILDS)
    return kinds


def _gives_way_on(wishing: WishEngine, given_up: GivenUp) -> str:
    wishes = [wishing.targets[number].wish for number in given_up.numbers]
    names = list(
        dict.fromkeys(short_fact_words(wishing.compiled, wish.fact, wish.case) for wish in wishes)
    )
    return f"comes nearest to the {'wish' if len(names) == 1 else 'wishes'} for {listed(names)}"


def _missed(wishing: WishEngine, number: int, value: float) -> WishMissed:
    wish = wishing.targets[number].wish
    return WishMissed(
        wish=wish,
        reachable=value,
        short_by=short_by(wish, value),
        unit=FACT_LABELS[wish.fact].unit,
        sentence=missed_words(wishing.compiled, wish, value),
    )


def _marks_in_the_way(wishing: WishEngine) -> str:
    """Say which choices to be kept stand against the wishes; empty where they alone do not."""
    held = wishing.picks(wishing.every_wish)
    wishes_alone = {group: option for group, option in held.items() if group not in wishing.kept}
    if not wishing.kept or not wishing.engine.is_possible(wishes_alone):
        return ""
    conflict = wishing.engine.conflict(held)
    names = [option_name(wishing.compiled, *p) for p in conflict.picks if p[0] in wishing.kept]
    stands = "stands" if len(names) == 1 else "stand"
    return (
        f"{listed(names)}, marked to be kept, {stands} in the way of the wishes: "
        "without the marks all could be met."
    )

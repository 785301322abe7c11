"""A customer's wishes: save them, answer them, take a build that was found for them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.sentences import contradiction_sentence, option_name
from configurator.build_spec.wish_answer import WishAnswer, WishFront
from configurator.build_spec.wish_faults import read_wishes, wish_faults
from configurator.build_spec.wish_pipeline import price_range_front, wished
from configurator.catalog.models.build import BuildInput, Preference, Wish
from configurator.errors import ChoiceError, Fault
from configurator.workflow.builds import Draft, read_draft
from configurator.workflow.draft_saving import refuse_stale, save_steps
from configurator.workflow.draft_steps import field_steps
from configurator.workflow.kept_as_ordered import save_as_ordered
from configurator.workflow.offered import check_offered, check_vehicle
from configurator.workflow.premises import Premises


def set_wishes(
    premises: Premises,
    reference: str,
    *,
    revision: int,
    wishes: Sequence[Wish | Mapping[str, object]],
    preferences: Sequence[Preference],
    now: datetime,
) -> Draft:
    """Put wishes and preferences in the place of those of the draft, as one change.

    Parameters
    ----------
    premises, reference, revision, now
        As for `consultation.pick_option`.
    wishes : sequence of Wish or mapping
        A mapping as a form sends it: `fact`, `case` where there is one, `at_least` or `at_most`.
    preferences : sequence of Preference
        The dearest first.

    Returns
    -------
    Draft
        As it is on disk now; undone like any other change.

    Raises
    ------
    ChoiceError
        If a wish or a preference cannot be understood; all faults together, nothing is saved.
    StaleDraftError
        If somebody else changed the draft meanwhile.
    RecordError
        If it cannot be saved.
    """
    draft = read_draft(premises, reference)
    check_vehicle(premises.catalog, draft.build.vehicle)
    read, faults = read_wishes(wishes)
    asked = draft.build.model_copy(
        # Marks are set elsewhere; what is wrong with them must not keep a wish from being saved.
        update={"wishes": tuple(read.values()), "preferences": tuple(preferences), "must_keep": ()}
    )
    compiled = premises.engines.compiled(premises.catalog, draft.build)
    faults += wish_faults(compiled, asked, tuple(read))
    if faults:
        raise ChoiceError(faults)
    steps = field_steps(draft.build, asked, "wishes", "preferences")
    if not steps:
        return draft
    refuse_stale(premises, draft, revision)
    return save_steps(premises, draft, "wishes", steps, now=now)


def wishes_answered(premises: Premises, draft: Draft) -> WishAnswer:
    """Answer the wishes of a draft.

    Returns
    -------
    WishAnswer
        The same object again while nothing changed.

    Raises
    ------
    ChoiceError
        If the vehicle is gone, or the catalog has lost what a wish, preference or mark names.
    """
    build = draft.build
    check_vehicle(premises.catalog, build.vehicle)
    return premises.wish_answers.get_or_make(
        build.model_dump_json(), lambda: wished(premises.catalog, build, premises.engines)
    )


def front_of_draft(premises: Premises, draft: Draft, case_id: str | None = None) -> WishFront:
    """Lay out price against winter range for a draft; its wishes do not bind there.

    Returns
    -------
    WishFront
        The same object again while nothing changed but the wishes.

    Raises
    ------
    ChoiceError
        If the vehicle is gone, the case is unknown, or a mark stands on a lost choice.
    """
    build = draft.build.model_copy(update={"wishes": ()})
    check_vehicle(premises.catalog, build.vehicle)
    return premises.wish_fronts.get_or_make(
        (build.model_dump_json(), case_id),
        lambda: price_range_front(premises.catalog, build, premises.engines, case_id),
    )


def take_wished_build(
    premises: Premises,
    reference: str,
    *,
    revision: int,
    choices: Mapping[str, str],
    now: datetime,
) -> Draft:
    """Take all choices of a build that was found for the wishes, as one change.

    Parameters
    ----------
    choices : mapping of str to str
        Group → option, complete, as the answer or the front told them.

    Returns
    -------
    Draft
        As it is on disk now; one undo takes all of it back.

    Raises
    ------
    ChoiceError
        If the build is not complete, names what is not offered, breaks a rule or limit, or alters
        a choice marked to be kept; says which.
    StaleDraftError
        If somebody else changed the draft meanwhile.
    RecordError
        If it cannot be saved.
    """
    draft = read_draft(premises, reference)
    check_vehicle(premises.catalog, draft.build.vehicle)
    refuse_stale(premises, draft, revision)
    _check_offered(premises, draft, choices)
    compiled = premises.engines.compiled(premises.catalog, draft.build)
    faults = [*_missing(compiled, choices), *_altered_marks(compiled, draft.build, choices)]
    if not faults and not compiled.engine.is_possible(choices):
        faults.append(_impossible(compiled, choices))
    if faults:
        raise ChoiceError(faults)
    return save_as_ordered(premises, draft, "wished-build", choices, now=now)


def _check_offered(premises: Premises, draft: Draft, choices: Mapping[str, str]) -> None:
    faults: list[Fault] = []
    for group_id, option_id in choices.items():
        try:
            check_offered(premises.catalog, draft.build.vehicle, group_id, option_id)
        except ChoiceError as error:
            faults.extend(error.faults)
    if faults:
        raise ChoiceError(faults)


def _missing(compiled: Compiled, choices: Mapping[str, str]) -> Iterator[Fault]:
    for group in compiled.offer.groups:
        if group.id not in choices:
            what = "the build found for the wishes has no choice there (any more)"
            yield Fault("P015", group.label, what, "Ask for the wishes again, and take from those.")


def _altered_marks(
    compiled: Compiled, build: BuildInput, choices: Mapping[str, str]
) -> Iterator[Fault]:
    for group_id in build.must_keep:
        kept, taken = build.choices.get(group_id), choices.get(group_id)
        if kept is not None and taken not in {kept, None}:
            group = compiled.offer.group_by_id.get(group_id)
            what = f'"{kept}" is marked to be kept, and the build found has "{taken}"'
            where = group.label if group else group_id
            yield Fault("P016", where, what, "Take the mark away first, or take another build.")


def _impossible(compiled: Compiled, choices: Mapping[str, str]) -> Fault:
    conflict = compiled.engine.conflict(choices)
    where = option_name(compiled, *conflict.picks[0]) if conflict.picks else "The build"
    what = f"the build is not possible: {contradiction_sentence(compiled, conflict).rstrip('.')}"
    return Fault("P015", where, what, "Ask for the wishes again, and take from those.")

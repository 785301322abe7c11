from __future__ import annotations

from datetime import datetime
from itertools import product

from configurator.workflow.builds import Draft, read_draft
from configurator.workflow.consultation import outline_of_draft, pick_option, set_house_choices
from configurator.workflow.default_completion import (
    builds_still_possible,
    default_completion_of_draft,
)
from configurator.workflow.premises import Premises


def builds_one_by_one(premises: Premises, draft: Draft) -> int:
    engine = premises.engines.compiled(premises.catalog, draft.build).engine
    domains = engine.problem.domains
    names = [domain.id for domain in domains]
    builds = (
        dict(zip(names, options, strict=True))
        for options in product(*(domain.options for domain in domains))
    )
    chosen = draft.build.choices.items()
    return sum(engine.is_possible(build) for build in builds if chosen <= build.items())


def test_the_default_completion_is_what_the_workshops_button_brings(
    premises: Premises, reference: str, now: datetime
) -> None:
    draft = read_draft(premises, reference)
    told = default_completion_of_draft(premises, draft)
    filled = set_house_choices(premises, reference, revision=draft.revision, wanted=True, now=now)
    assert told is not None
    assert told == outline_of_draft(premises, filled)
    assert told.is_complete
    assert not outline_of_draft(premises, draft).is_complete


def test_the_default_completion_keeps_what_the_customer_chose(
    premises: Premises, reference: str, now: datetime
) -> None:
    seen = read_draft(premises, reference).revision
    draft = pick_option(
        premises, reference, revision=seen, group_id="cells", option_id="many-cells", now=now
    )
    told = default_completion_of_draft(premises, draft)
    assert told is not None
    chosen = told.chosen("cells")
    assert chosen is not None
    assert "many-cells" == chosen.option_id


def test_builds_still_possible_are_all_that_keep_rules_and_limits(
    premises: Premises, reference: str, now: datetime
) -> None:
    draft = read_draft(premises, reference)
    for group, option in (("livery", "nettle"), ("cells", "many-cells")):
        counted, exact = builds_still_possible(premises, draft), builds_one_by_one(premises, draft)
        assert exact <= counted.value
        assert not counted.is_exact or exact == counted.value
        draft = pick_option(
            premises,
            reference,
            revision=draft.revision,
            group_id=group,
            option_id=option,
            now=now,
        )
    last = builds_still_possible(premises, draft)
    assert (builds_one_by_one(premises, draft), True) == (last.value, last.is_exact)


def test_the_workshops_choices_count_as_open(
    premises: Premises, reference: str, now: datetime
) -> None:
    draft = read_draft(premises, reference)
    filled = set_house_choices(premises, reference, revision=draft.revision, wanted=True, now=now)
    assert builds_still_possible(premises, draft) == builds_still_possible(premises, filled)

from datetime import datetime

from configurator.workflow.builds import read_draft
from configurator.workflow.consultation import how_options_stand, set_house_choices
from configurator.workflow.known_at_once import how_options_stand_so_far
from configurator.workflow.premises import Premises


def answers(groups) -> list[bool | None]:
    return [option.is_available for group in groups for option in group.options]


def test_what_is_known_at_once_is_what_the_whole_answer_says(
    premises: Premises, reference: str
) -> None:
    draft = read_draft(premises, reference)
    at_once = answers(how_options_stand_so_far(premises, draft))
    whole = answers(how_options_stand(premises, draft))
    assert None in at_once
    assert all(early in {None, late} for early, late in zip(at_once, whole, strict=True))


def test_nothing_is_still_checked_once_the_whole_answer_was_given(
    premises: Premises, reference: str
) -> None:
    draft = read_draft(premises, reference)
    whole = how_options_stand(premises, draft)
    assert whole == how_options_stand_so_far(premises, draft)


def test_where_the_workshop_chooses_the_rest_its_choices_are_told(
    premises: Premises, reference: str, now: datetime
) -> None:
    draft = set_house_choices(premises, reference, revision=1, wanted=True, now=now)
    assert how_options_stand(premises, draft) == how_options_stand_so_far(premises, draft)

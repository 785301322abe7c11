"""A text that changes is told sentence by sentence: the old beside the new."""

from __future__ import annotations

from datetime import date

from configurator.build_life.text_changes import text_changes
from configurator.catalog.models.text import SafetyMessage, Text

MESSAGE = SafetyMessage(
    signal="danger",
    hazard="The battery carries 400 V.",
    consequence="A shock kills.",
    avoid=("Open no orange part.", "Call a trained person."),
)


def text(body: str = "", safety: SafetyMessage | None = MESSAGE, text_id: str = "hot") -> Text:
    return Text(
        id=text_id,
        section="safety",
        title="Hot wires",
        order=1,
        safety=safety,
        review_by=date(2027, 6, 1),
        approver="Engineer",
        source="invented for tests",
        body=body,
    )


def test_the_old_sentence_stands_beside_the_new_one() -> None:
    other = MESSAGE.model_copy(update={"hazard": "The battery carries 300 V."})
    (found,) = text_changes([text()], [text(safety=other)])
    assert ("changed", True) == (found.how, found.is_safety)
    expected = (("DANGER: The battery carries 400 V.", "DANGER: The battery carries 300 V."),)
    assert expected == found.sentences


def test_of_a_body_in_markdown_only_the_sentences_that_differ_are_told() -> None:
    before = "Stay **clear**. Wait\nfive minutes.\n\n1. Pull the plug.\n2. Lock it.\n"
    after = "Stay **clear**. Wait\nten minutes.\n\n1. Pull the plug.\n"
    (found,) = text_changes([text(before)], [text(after)])
    expected = (("Wait five minutes.", "Wait ten minutes."), ("Lock it.", None))
    assert expected == found.sentences


def test_a_new_and_a_gone_text_are_told_whole() -> None:
    new, gone = text_changes([text(text_id="old")], [text()])
    whole = ("DANGER: The battery carries 400 V.", "A shock kills.", *MESSAGE.avoid)
    assert ("new", tuple((None, said) for said in whole)) == (new.how, new.sentences)
    assert ("gone", tuple((said, None) for said in whole)) == (gone.how, gone.sentences)


def test_safety_texts_come_first() -> None:
    plain = text("Wash it.", safety=None, text_id="care")
    assert [True, False] == [found.is_safety for found in text_changes([], [plain, text()])]


def test_nothing_differs_between_the_same_texts() -> None:
    assert () == text_changes([text()], [text()])


def test_the_order_of_safety_turned_round_is_a_change() -> None:
    turned = MESSAGE.model_copy(update={"avoid": tuple(reversed(MESSAGE.avoid))})
    (found,) = text_changes([text()], [text(safety=turned)])
    assert found.sentences

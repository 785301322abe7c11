from __future__ import annotations

import pytest

from configurator.app.view_models.acts import TileAct, act_from

SENT = {"kind": "pick", "group": "roof", "option": "canvas", "revision": 3, "click": "k-1"}


def test_a_pick_is_read_with_the_revision_the_person_saw():
    assert act_from(SENT) == TileAct("pick", "roof", "canvas", 3, "k-1")


def test_a_way_out_brings_along_the_changes_that_were_read():
    sent = {**SENT, "kind": "way_out", "changes": [["floor", "cork"], ["seats", "bench"]]}
    act = act_from(sent)
    assert act is not None
    assert (("floor", "cork"), ("seats", "bench")) == act.changes


@pytest.mark.parametrize("kind", ["keep", "let_go", "undo", "clear"])
def test_everything_the_tiles_can_do_is_read(kind: str):
    act = act_from({**SENT, "kind": kind})
    assert act is not None
    assert kind == act.kind


@pytest.mark.parametrize(
    "sent",
    [
        None,
        "pick",
        {},
        {**SENT, "kind": "sell"},
        {**SENT, "revision": "3"},
        {**SENT, "revision": True},
        {**SENT, "group": None},
        {**SENT, "option": ["canvas"]},
        {**SENT, "changes": "floor"},
        {**SENT, "changes": [["floor"]]},
        {**SENT, "changes": [["floor", 3]]},
        {**SENT, "changes": [["floor", "cork"]] * 101},
        {key: value for key, value in SENT.items() if key != "click"},
    ],
)
def test_anything_else_from_the_browser_counts_as_nothing(sent: object):
    assert act_from(sent) is None

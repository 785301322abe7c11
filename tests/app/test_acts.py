from __future__ import annotations

import pytest

from configurator.app.view_models.acts import TileAct, act_from

SENT = {"kind": "pick", "group": "roof", "option": "canvas", "revision": 3, "click": "k-1"}


def test_a_pick_is_read_with_the_revision_the_person_saw():
    assert act_from(SENT) == TileAct("pick", "roof", "canvas", 3, "k-1")


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
        {key: value for key, value in SENT.items() if key != "click"},
    ],
)
def test_anything_else_from_the_browser_counts_as_nothing(sent: object):
    assert act_from(sent) is None

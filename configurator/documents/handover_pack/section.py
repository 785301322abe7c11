"""What a section of the pack is: a title, a key for links, and how it is written."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeAlias

from reportlab.platypus import Flowable

from configurator.build_spec.spec import Spec
from configurator.documents.handover_pack.pack_issue import PackIssue

Blocks: TypeAlias = Callable[[Spec, PackIssue | None], list[Flowable]]
"""Writes a section of a spec; the issue is None in a draft."""


@dataclass(frozen=True)
class PackSection:
    """A numbered section of the pack."""

    key: str
    title: str
    blocks: Blocks
    on_own_pages: bool = False
    """Whether it can be taken out of the pack."""


def of_spec(blocks: Callable[[Spec], list[Flowable]]) -> Blocks:
    """Write a section that says the same in a draft and once it is issued."""
    return lambda spec, _issue: blocks(spec)

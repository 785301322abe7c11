"""What a section of the pack is: a title, a key for links, and how it is written."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from reportlab.platypus import Flowable

from configurator.build_spec.spec import Spec


@dataclass(frozen=True)
class PackSection:
    """A numbered section of the pack."""

    key: str
    title: str
    blocks: Callable[[Spec], list[Flowable]]
    on_own_pages: bool = False
    """Whether it can be taken out of the pack."""

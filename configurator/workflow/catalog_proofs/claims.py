"""Claims about a catalog as they stand in a file of proofs."""

from __future__ import annotations

from typing import Annotated, Literal, TypeAlias

from pydantic import Field, StringConstraints

from configurator.catalog.models.data import Data, Identifier, Label

ClaimKind: TypeAlias = Literal[
    "no-complete-build",
    "house-choices-clash",
    "useless-option",
    "settled-group",
    "idle-rule",
    "implied-rule",
    "unreachable-limit",
    "unread-text",
]

About = Annotated[str, StringConstraints(min_length=1, max_length=130)]
"""Two ids and what stands between them."""

PROOFS_FORMAT: TypeAlias = Literal["catalog proofs, version 1"]


class Keeps(Data):
    """The rules and limits that a build must keep."""

    rules: tuple[Identifier, ...] = ()
    limits: tuple[Identifier, ...] = ()


class Asked(Data):
    """A question about all builds of a vehicle, with its answer."""

    keeps: Keeps
    within: dict[Identifier, tuple[Identifier, ...]] = Field(default_factory=dict)
    """Groups that may take only some of their options."""
    breaks_rule: Identifier | None = None
    breaks_limit: Identifier | None = None
    build: dict[Identifier, Identifier] | None = None
    """A build that answers it; none when there is no such build."""


class Claim(Data):
    """Something that holds of one vehicle, with questions that prove it."""

    kind: ClaimKind
    vehicle: Identifier
    about: About
    """The id of what it is about; an option's is `group/option`."""
    proof: tuple[Asked, ...]


class ProvedFinding(Data):
    """What `check` told, with the claims that it rests on."""

    code: Label
    where: str
    says: str
    claims: tuple[Claim, ...]


class ProofFile(Data):
    """All proofs of one check."""

    format: PROOFS_FORMAT = "catalog proofs, version 1"
    catalog_sha256: str
    findings: tuple[ProvedFinding, ...]

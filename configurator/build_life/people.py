"""Who acts: a named person in one role."""

from __future__ import annotations

import unicodedata
from typing import Annotated

from pydantic import StringConstraints

from configurator.catalog.models.data import Data
from configurator.catalog.models.workshop import RoleId

LONGEST_NAME = 200
PersonName = Annotated[
    str, StringConstraints(min_length=1, max_length=LONGEST_NAME, strip_whitespace=True)
]


class Person(Data):
    """A person in the role in which they act now."""

    name: PersonName
    role: RoleId
    is_solo: bool = False
    """One person alone keeps this record: nobody else could have signed."""

    @property
    def in_words(self) -> str:
        """Name and role as they stand under what was done.

        Examples
        --------
        >>> Person(name="A. Sample", role="second-person").in_words
        'A. Sample, second person'
        """
        alone = ", alone in this workshop" if self.is_solo else ""
        return f"{self.name}, {self.role.replace('-', ' ')}{alone}"


def same_name(name: str) -> str:
    r"""Fold a name: capitals, spaces and another keyboard make no second person.

    Examples
    --------
    >>> same_name("  Zo\u00eb   Sample ") == same_name("zoe\u0308 SAMPLE")
    True
    """
    return " ".join(unicodedata.normalize("NFKC", name).split()).casefold()

"""What the law of the workshop's country asks, for whoever reads the paper."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from reportlab.platypus import Flowable

from configurator.build_spec.spec import Spec
from configurator.catalog.models.rule import CountryRule
from configurator.documents.paragraphs import words
from configurator.documents.tables import headed_table
from configurator.documents.text_blocks import source_words

Reader = Literal["owner", "workshop"]

DECIDES = "For information: the authority decides. Ask it before you rely on a line below."


def rules_for(spec: Spec, reader: Reader) -> list[CountryRule]:
    """Choose the country rules that somebody is to read.

    Parameters
    ----------
    spec : Spec
        Of any build.
    reader : Reader
        Whose paper it is; what is for both stands in each.
    """
    return [rule for rule in spec.country_rules if rule.audience in {reader, "both"}]


def law_table(rules: Sequence[CountryRule]) -> list[Flowable]:
    """Tell each rule with its source and the authority that decides."""
    rows = [
        (rule.title, f"{rule.advice} Source: {source_words(rule.source)}.", rule.authority)
        for rule in rules
    ]
    return [
        words(DECIDES),
        headed_table(("Matter", "Advice", "Authority"), rows, (0.22, 0.56, 0.22)),
    ]

"""A feature model of the open UVL format as a problem: its products are the problem's builds.

The children of an alternative become one group with an option "none" for when their parent is
absent; every other feature becomes a group of "yes" and "no". Constraints become forbidden
combinations by their truth tables, so that nothing is shared with the reader's own clauses.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from itertools import combinations, product

from flamapy.core.models.ast import ASTOperation, Node
from flamapy.metamodels.fm_metamodel.models import FeatureModel

from configurator.rules.problem import Domain, Implication, Problem

NONE = "none"
OF = {
    ASTOperation.AND: lambda a, b: a and b,
    ASTOperation.OR: lambda a, b: a or b,
    ASTOperation.XOR: lambda a, b: a != b,
    ASTOperation.IMPLIES: lambda a, b: b or not a,
    ASTOperation.REQUIRES: lambda a, b: b or not a,
    ASTOperation.EXCLUDES: lambda a, b: not (a and b),
    ASTOperation.EQUIVALENCE: lambda a, b: a == b,
}


@dataclass
class Translation:
    """A feature model's problem, and where each feature went."""

    options: dict[str, tuple[str, ...]] = field(default_factory=dict)
    place: dict[str, tuple[str, str]] = field(default_factory=dict)
    """Feature → the group and option that mean it is selected."""
    rules: list[Implication] = field(default_factory=list)

    @property
    def problem(self) -> Problem:
        domains = tuple(Domain(group, options) for group, options in self.options.items())
        return Problem(domains=domains, implications=tuple(self.rules))

    def meaning(self, feature: str, selected: bool) -> tuple[str, frozenset[str]]:
        group, option = self.place[feature]
        alone = frozenset({option})
        return group, alone if selected else frozenset(self.options[group]) - alone

    def forbid(self, *literals: tuple[str, bool]) -> None:
        """Forbid that features are all selected or not as told."""
        together: dict[str, frozenset[str]] = {}
        for feature, selected in literals:
            group, options = self.meaning(feature, selected)
            together[group] = together.get(group, options) & options
        if not all(together.values()):
            return
        last, options = together.popitem()
        others = frozenset(self.options[last]) - options
        self.rules.append(Implication(f"rule-{len(self.rules)}", together, {last: others}))


def translated(model: FeatureModel) -> Translation:
    made = Translation()
    made.options[model.root.name] = ("yes",)
    made.place[model.root.name] = (model.root.name, "yes")
    for feature in features_from(model.root):
        for number, relation in enumerate(feature.get_relations()):
            names = [child.name for child in relation.children]
            if relation.is_alternative():
                group = f"{feature.name} {number}"
                made.options[group] = (*names, NONE)
                made.place |= {name: (group, name) for name in names}
            else:
                made.options |= dict.fromkeys(names, ("yes", "no"))
                made.place |= {name: (name, "yes") for name in names}
            add_relation(made, feature.name, names, relation.card_min, relation.card_max)
    for constraint in model.get_constraints():
        for row in broken_rows(constraint.ast.root):
            made.forbid(*row.items())
    return made


def features_from(root) -> Iterator:
    yield root
    for child in root.get_children():
        yield from features_from(child)


def add_relation(made: Translation, parent: str, names: list[str], least: int, most: int) -> None:
    """A child needs its parent; a parent has no fewer and no more children than told."""
    for name in names:
        made.forbid((name, True), (parent, False))
    for too_many in combinations(names, most + 1):
        made.forbid((parent, True), *((name, True) for name in too_many))
    for absent in combinations(names, len(names) - least + 1) if least else ():
        made.forbid((parent, True), *((name, False) for name in absent))


def broken_rows(root: Node) -> Iterator[Mapping[str, bool]]:
    """List the rows of a formula's truth table in which it does not hold."""
    names = sorted(set(names_in(root)))
    for values in product((False, True), repeat=len(names)):
        row = dict(zip(names, values, strict=True))
        if not holds(root, row):
            yield row


def names_in(node: Node) -> Iterable[str]:
    if node.is_term():
        return [node.data]
    return [name for child in (node.left, node.right) if child for name in names_in(child)]


def holds(node: Node, row: Mapping[str, bool]) -> bool:
    if node.is_term():
        return row[node.data]
    if node.data is ASTOperation.NOT:
        return not holds(node.left, row)
    return OF[node.data](holds(node.left, row), holds(node.right, row))

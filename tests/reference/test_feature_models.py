"""The engine and the counting against another program, on feature models in the open UVL format.

Source: the models are our own; the answers to compare with are flamapy's, by decision diagrams
(products, features in all and in none) and by a SAT solver (partial configurations).
"""

from pathlib import Path
from random import Random

import pytest
from flamapy.metamodels.configuration_metamodel.models.configuration import Configuration
from flamapy.metamodels.fm_metamodel.transformations import UVLReader
from flamapy.metamodels.pysat_metamodel.operations import PySATSatisfiableConfiguration
from flamapy.metamodels.pysat_metamodel.transformations import FmToPysat
from flamapy.metamodels.sdd_metamodel.operations import (
    SDDConfigurationsNumber,
    SDDCoreFeatures,
    SDDDeadFeatures,
)
from flamapy.metamodels.sdd_metamodel.transformations import FmToSDD

from configurator.rules.counting import Count, count_builds
from configurator.rules.engine import Engine
from tests.reference.feature_model_problem import translated

MODELS = sorted((Path(__file__).parent / "feature_models").glob("*.uvl"))


@pytest.fixture(params=MODELS, ids=lambda path: path.stem)
def model(request):
    return UVLReader(str(request.param)).transform()


def test_there_are_small_and_large_models_with_relations_and_constraints_of_each_kind():
    models = [UVLReader(str(path)).transform() for path in MODELS]
    assert len(models) >= 12
    assert sum(len(model.get_features()) >= 100 for model in models) >= 3
    relations = [relation for model in models for relation in model.get_relations()]
    for is_of_kind in ("mandatory", "optional", "alternative", "or", "cardinal"):
        assert any(getattr(relation, f"is_{is_of_kind}")() for relation in relations)
    constraints = [constraint for model in models for constraint in model.get_constraints()]
    for is_of_kind in ("requires", "excludes", "complex"):
        assert any(getattr(each, f"is_{is_of_kind}_constraint")() for each in constraints)


def test_there_are_as_many_builds_as_products(model):
    expected = SDDConfigurationsNumber().execute(FmToSDD(model).transform()).get_result()
    assert Count(expected, is_exact=True) == count_builds(translated(model).problem, {})


def test_features_of_all_products_and_of_none_are_those_that_cannot_be_left_or_taken(model):
    diagram = FmToSDD(model).transform()
    made = translated(model)
    available = Engine(made.problem).availability({})

    def always(selected):
        found = set()
        for feature in made.place:
            group, options = made.meaning(feature, not selected)
            if not any(available[group][option] for option in options):
                found.add(feature)
        return found

    assert set(SDDCoreFeatures().execute(diagram).get_result()) == always(selected=True)
    assert set(SDDDeadFeatures().execute(diagram).get_result()) == always(selected=False)


def test_partial_configurations_are_possible_exactly_when_a_product_has_them(model):
    random = Random(len(model.get_features()))  # noqa: S311  Seeded chance repeats.
    clauses = FmToPysat(model).transform()
    made = translated(model)
    engine = Engine(made.problem)
    groups = list(made.options)
    for _ in range(30):
        some = random.sample(groups, random.randint(1, min(8, len(groups))))
        picks = {group: random.choice(made.options[group]) for group in some}
        features = {
            feature: picks[group] == option
            for feature, (group, option) in made.place.items()
            if group in picks
        }
        asked = PySATSatisfiableConfiguration()
        asked.set_configuration(Configuration(features))
        expected = asked.execute(clauses).get_result()
        assert expected == engine.is_possible(picks)
        assert expected == bool(count_builds(made.problem, picks).value)

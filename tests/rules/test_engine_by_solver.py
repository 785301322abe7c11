"""The engine with every question left to the solver, as large problems leave theirs."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.rules import least, prover
from configurator.rules.engine import Engine
from tests.rules.small_problems import picks_of, problems, quantities, steady


def answers(problem, picks, preferred, cost):
    engine = Engine(problem)
    possible = engine.is_possible(picks)
    return {
        "availability": engine.availability(picks),
        "conflict": None if possible else engine.conflict(picks),
        "least": engine.minimise(cost, picks),
        "greatest": (engine.extreme(cost, picks, greatest=True) or (None,))[0],
        "completion": engine.completion(picks, preferred, cost),
    }


@given(st.data())
@steady
def test_the_solver_alone_gives_the_answers_of_search_and_solver_together(data):
    problem = data.draw(problems())
    picks, preferred = data.draw(picks_of(problem)), data.draw(picks_of(problem))
    cost = data.draw(quantities(problem.domains))
    expected = answers(problem, picks, preferred, cost)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(prover, "NODES_BEFORE_SHARPENING", 0)
        patch.setattr(prover, "NODES_BEFORE_SOLVER", 0)
        patch.setattr(least, "NODES_BEFORE_SOLVER", 0)
        assert expected == answers(problem, picks, preferred, cost)

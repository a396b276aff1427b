"""The cheapest pairing against a general library's solver and a worked example."""

import random

import numpy as np
import pytest
from scipy.optimize import linear_sum_assignment

from inspect_report.mechanics.assignment import cheapest_assignment


def test_worked_example_of_a_manual() -> None:
    """Example in the text of scipy.optimize.linear_sum_assignment (seen): columns 1, 0, 2, cost 5."""
    costs = [[4, 1, 3], [2, 0, 5], [3, 2, 2]]
    taken = cheapest_assignment(costs)
    assert taken == (1, 0, 2)
    assert sum(costs[row][column] for row, column in enumerate(taken)) == 5


@pytest.mark.parametrize("seed", range(60))
def test_same_least_sum_as_a_general_solver(seed: int) -> None:
    """Whole costs of up to 16 rows and 98 columns, an engine's valves and shims: the least sum, exactly."""
    source = random.Random(seed)
    rows = source.randint(1, 16)
    columns = source.randint(rows, 98)
    costs = [[source.randint(-1000, 1000) for _ in range(columns)] for _ in range(rows)]
    theirs = np.array(costs)[linear_sum_assignment(costs)].sum()
    taken = cheapest_assignment(costs)
    assert sum(costs[row][column] for row, column in enumerate(taken)) == theirs
    assert len(set(taken)) == rows

"""Typeset formulas become lines of plain signs that mean the same."""

import inspect
from collections.abc import Callable

import pytest

from inspect_report.mechanics import gasflow, metrology
from inspect_report.report.docstring import formula_doc
from inspect_report.report.formula_text import UnknownSign, plain_formula


@pytest.mark.parametrize(
    ("typeset", "plain"),
    [
        (r"L = 100 \, (p_s - p_c) / p_s", "L = 100 (p_s - p_c) / p_s"),
        (r"u = d / (2 \sqrt 3)", "u = d / (2 √3)"),
        (r"u = \sqrt{\sum u_i^2}", "u = √(Σ u_i²)"),
        (r"H = \frac{T_0}{\lambda} \left(1 - x\right)", "H = (T_0 / λ) (1 - x)"),
        (r"Z = \frac{a + b}{2 h}", "Z = (a + b) / (2 h)"),
        (r"s = \frac{x_i - \bar x}{\bar x}, \quad d > 0", "s = (x_i - x̄) / x̄,  d > 0"),
        (r"r^* = (2 / (\gamma + 1))^{\gamma / (\gamma - 1)}", "r* = (2 / (γ + 1))^(γ / (γ - 1))"),
        (r"x = r (1 - \cos\theta) - r^2 \sin^2\theta", "x = r (1 - cos θ) - r² sin² θ"),
        (r"t = t_{1 - \alpha / (2n), n - 2}", "t = t_(1 - α / (2n), n - 2)"),
        (r"c = b_{groove} - b_{ring}", "c = b_groove - b_ring"),
        (r"p = \dot V \quad \text{solved for } x", "p = V̇  solved for x"),
    ],
)
def test_plain_signs(typeset: str, plain: str) -> None:
    """Fractions, roots, powers, indices, marks above and words, each as a person would type them."""
    assert plain_formula(typeset) == plain


@pytest.mark.parametrize(("typeset", "told"), [(r"\oint x", "oint"), (r"\sqrt{x", "never closed")])
def test_sign_that_is_not_known(typeset: str, told: str) -> None:
    """A command without a sign is refused, not dropped: the formula would say something else."""
    with pytest.raises(UnknownSign, match=told):
        plain_formula(typeset)


def test_docstring_comes_apart_whole() -> None:
    """Every part of the house's docstring form, in one line each."""
    doc = formula_doc(gasflow.leak_percent)
    assert doc.name == "mechanics.gasflow.leak_percent"
    assert doc.sentence == "Share of the supply pressure lost across the tester's orifice."
    assert doc.typeset == r"L = 100 \, (p_s - p_c) / p_s"
    assert doc.arguments == (
        ("p_supply", "Gauge pressure set at the regulator. [Pa]"),
        ("p_cylinder", "Gauge pressure behind the orifice. [Pa]"),
    )
    assert doc.gives == "Leak-down reading, 0 tight to 100 open. [%]"
    assert doc.raises == "p_supply not above 0, or p_cylinder not in 0 to p_supply."
    assert doc.holds_for == "both gauges read together, piston held still."
    assert doc.source == "definition of the reading, FAA AC 43.13-1B par. 8-14."
    assert doc.checked_in == "tests/published/test_leakdown.py"


@pytest.mark.parametrize("formula", [gasflow.cylinder_pressure, metrology.coverage_factor])
def test_every_argument_is_told(formula: Callable[..., object]) -> None:
    """Arguments that go over two lines, and those behind a star, are told too."""
    assert [name for name, _ in formula_doc(formula).arguments] == list(inspect.signature(formula).parameters)

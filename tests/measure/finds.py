"""Turns what measuring gave into the one quantity or the one reason a test asks for."""

from inspect_report.knowledge.case import Case
from inspect_report.measure.derived import Derived, Unmeasured
from inspect_report.measure.measuring import measure


def found(case: Case, name: str) -> Derived:
    """The quantity of a name such as ``bore-taper.1``."""
    (one,) = [q for q in measure(case).quantities if q.id == name]
    return one


def lacking(case: Case, characteristic: str) -> tuple[Unmeasured, ...]:
    """What could not be measured of a characteristic."""
    return tuple(u for u in measure(case).unmeasured if u.characteristic == characteristic)


def value(case: Case, name: str) -> float:
    """The value of a quantity, in SI."""
    return found(case, name).quantity.value


def u(case: Case, name: str) -> float:
    """The standard uncertainty of a quantity, in SI."""
    return found(case, name).quantity.u

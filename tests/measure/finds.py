"""Turns what measuring gave into the one quantity or the one reason a test asks for."""

from inspect_report.knowledge.case import Case
from inspect_report.measure.derived import Derived, Measured, Unmeasured
from inspect_report.measure.measuring import measure

_LAST: list[tuple[Case, Measured]] = []


def _measured(case: Case) -> Measured:
    """What measuring gives; made once where a test asks several things of one case."""
    if not (_LAST and _LAST[0][0] is case):
        _LAST[:] = [(case, measure(case))]
    return _LAST[0][1]


def found(case: Case, name: str) -> Derived:
    """The quantity of a name such as ``bore-taper.1``."""
    (one,) = [q for q in _measured(case).quantities if q.id == name]
    return one


def lacking(case: Case, characteristic: str) -> tuple[Unmeasured, ...]:
    """What could not be measured of a characteristic."""
    return tuple(u for u in _measured(case).unmeasured if u.characteristic == characteristic)


def value(case: Case, name: str) -> float:
    """The value of a quantity, in SI."""
    return found(case, name).quantity.value


def u(case: Case, name: str) -> float:
    """The standard uncertainty of a quantity, in SI."""
    return found(case, name).quantity.u

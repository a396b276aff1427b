"""Checks where planned shims come from; sizes and places are made up."""

from dataclasses import replace

from inspect_report.measure.derived import ShimChoice
from inspect_report.measure.shim_supply import supplied
from inspect_report.records.position import Position


def shim(valve: int, fitted: float, size: float | None, *, change: bool = True, note: str = "") -> ShimChoice:
    """A shim of an inlet valve in mm."""
    at = Position(("cylinder", "valve"), ("1", f"inlet-{valve}"))
    made = ShimChoice(at, 1e-4, fitted / 1e3, 1.5e-4, 1e-4, 2e-4, 2e-3, None, None, change=change, note=note)
    return made if size is None else replace(made, size=size / 1e3)


def sources(plan: list[ShimChoice], *box: float) -> list[tuple[str, str]]:
    """Source and note of each shim, by the sizes [mm] in the box."""
    return [(s.source, s.note) for s in supplied(plan, [size / 1e3 for size in box])]


def test_box_then_engine_then_shop() -> None:
    """2.000 lies in the box; 2.100 comes out of the first valve; nobody has 2.200."""
    plan = [shim(1, 2.1, 2.0), shim(2, 2.3, 2.1, note="near"), shim(3, 2.4, 2.2)]
    assert sources(plan, 2.0) == [
        ("box", "from the workshop's box"),
        ("moved", "near; moved from cylinder 1, inlet valve 1"),
        ("buy", "to buy"),
    ]


def test_each_shim_is_used_once() -> None:
    """One in the box and one freed serve two of three valves that need 2.000."""
    plan = [shim(1, 2.5, 2.0), shim(2, 2.5, 2.0), shim(3, 2.5, 2.0), shim(4, 2.0, 2.6)]
    assert [s for s, _ in sources(plan, 2.0)] == ["box", "moved", "buy", "buy"]
    assert [s for s, _ in sources(plan, 2.0, 2.0, 2.0, 2.6)] == ["box"] * 4


def test_a_worn_shim_counts_as_its_size_within_five_thousandths() -> None:
    """1.996 is taken for 2.000, 1.994 is not."""
    assert [s for s, _ in sources([shim(1, 1.996, 1.9), shim(2, 2.3, 2.0)])] == ["buy", "moved"]
    assert [s for s, _ in sources([shim(1, 1.994, 1.9), shim(2, 2.3, 2.0)])] == ["buy", "buy"]


def test_only_what_comes_out_can_move() -> None:
    """A shim that stays, one without a size to follow it and a valve's own are not freed."""
    stays = shim(1, 2.0, 2.0, change=False)
    stuck = shim(2, 2.0, None)
    plan = [stays, stuck, shim(3, 2.0, 2.0)]
    assert sources(plan) == [("", ""), ("", ""), ("buy", "to buy")]

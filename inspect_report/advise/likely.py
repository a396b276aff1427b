"""Turns chances of what may be beyond its limit into what is likely to come on top of what is known."""

from collections.abc import Iterable, Sequence
from decimal import Decimal
from math import fsum
from typing import Final

import numpy as np
from numpy.typing import NDArray

from inspect_report.advise.bundle_prices import Amounts, BundlePrices
from inspect_report.advise.bundles import Sets
from inspect_report.advise.buyer import Chance, Likely
from inspect_report.advise.causes import Asking, Cause, Joint, silent
from inspect_report.advise.prospect import KNOWN, Prospect, jobs_done
from inspect_report.mechanics.draws import happenings, outcomes, point_of_order, weighted_point

MOST_COUNTED: Final = 10
"""Up to so many causes every outcome is reckoned with its exact chance; more of them are drawn."""
DRAWS: Final = 10_000
SEED: Final = 20_261
"""One start for all reports: the same inspection gives the same sums."""


def likely(prospect: Prospect, causes: Sequence[Cause], draws: int = DRAWS, seed: int = SEED) -> Likely:
    """
    What may come on top of what is known.

    Args:
        prospect: What is known, and the books.
        causes: What may come true, each with its chance.
        draws: How many draws, where there are too many causes to reckon every outcome.
        seed: Start of the generator.
    """
    if not causes:
        nothing = Decimal(0)
        return Likely((), nothing, nothing, nothing, nothing, 1.0, 0, 0)
    prices, chances = loose_prices(prospect, causes), [c.chance for c in causes]
    told = _chances(prospect, causes, prices)
    if len(causes) <= MOST_COUNTED:
        sets, weights = outcomes(chances)
        return _counted(prospect, told, on_top(prospect, causes, prices, sets), weights)
    drawn = happenings(chances, draws, seed)
    return _told(prospect, told, on_top(prospect, causes, prices, drawn), seed)


def _counted(
    prospect: Prospect, chances: tuple[Chance, ...], costs: Amounts, weights: NDArray[np.float64]
) -> Likely:
    """The points and the mean of what all outcomes cost, each by its chance."""
    p10, p50, p90 = (prospect.gross(weighted_point(costs, weights, share)) for share in (0.1, 0.5, 0.9))
    mean = prospect.gross(round(fsum((costs * weights).tolist())))
    free = costs <= 0
    nothing = 1.0 if free.all() else fsum(weights[free].tolist())
    return Likely(chances, mean, p10, p50, p90, nothing, 0, 0)


def on_top(prospect: Prospect, causes: Sequence[Cause], prices: BundlePrices, true: Sets) -> Amounts:
    """
    What each of many draws costs on top of what is known, before tax, in millionths.

    Args:
        prospect: What is known, and the books.
        causes: What may come true.
        prices: Their prices.
        true: Which causes come true: one row a cause, one column a draw.
    """
    alike, back = _distinct(true)
    known = np.zeros((len(causes), 1), np.bool_)
    done = prices.bundles.done(_sets(prospect.patterns, causes, np.hstack((known, alike))))
    cost = prices.cost(done, "low")
    added: Amounts = (cost - cost[0])[1:][back]
    return added


def _distinct(true: Sets) -> tuple[Sets, NDArray[np.intp]]:
    """The sets that differ, and for each set which of them it is: most draws are like others."""
    packed = np.packbits(np.ascontiguousarray(true.T), axis=1)
    keys = packed.view(np.dtype((np.void, packed.shape[1]))).ravel()
    _, first, back = np.unique(keys, return_index=True, return_inverse=True)
    return true[:, first], back.ravel()


def _chances(prospect: Prospect, causes: Sequence[Cause], prices: BundlePrices) -> tuple[Chance, ...]:
    """Each cause as if it alone came true."""
    alone = np.eye(len(causes), dtype=np.bool_)
    sets = np.hstack((np.zeros((len(causes), 1), np.bool_), alone))
    done = prices.bundles.done(_sets(prospect.patterns, causes, sets))
    cost, on_request = prices.cost(done, "low"), prices.on_request(done)
    jobs = {n: jobs_done(prices.bundles, done, n, n) for n in range(1, 1 + len(causes))}
    return tuple(
        Chance(
            id=cause.id,
            name=cause.name,
            position=cause.position,
            ground=cause.ground,
            chance=cause.chance,
            jobs=jobs[n],
            work=prospect.names(jobs[n]),
            added=prospect.gross(cost[n] - cost[0]),
            on_request=int(on_request[n] - on_request[0]),
        )
        for n, cause in enumerate(causes, 1)
    )


def loose_prices(prospect: Prospect, causes: Sequence[Cause]) -> BundlePrices:
    """Prices of what is needed with any set of causes: these from row 1 on, patterns behind them."""
    asking = Asking(prospect.sighted, causes, prospect.patterns)
    asks = [*asking.of_items(KNOWN, prospect.needed)]
    for n, cause in enumerate(causes, 1):
        asks += asking.of_cause(n, cause)
    items = {i.job: i for i in prospect.needed} | asking.items
    mute = tuple(silent(f) for f in prospect.sighted.findings) if prospect.patterns else ()
    for n, joint in enumerate(prospect.patterns, 1 + len(causes)):
        read = prospect.sighted.asked(mute, (joint.diagnosis,))
        asks += asking.of_items(n, read)
        items = {i.job: i for i in read} | items
    return prospect.prices(asks, items.values(), 1 + len(causes) + len(prospect.patterns))


def _sets(patterns: Iterable[Joint], causes: Sequence[Cause], true: Sets) -> Sets:
    """What is known, then the causes, then the patterns that follow from them: one column a set."""
    row = {c.id: n for n, c in enumerate(causes)}
    known = np.ones((1, true.shape[1]), np.bool_)
    follow = [
        np.logical_and.reduce([true[[row[i] for i in group]].any(axis=0) for group in joint.groups])
        for joint in patterns
    ]
    return np.vstack((known, true, *follow))


def _told(prospect: Prospect, chances: tuple[Chance, ...], costs: Amounts, seed: int) -> Likely:
    p10, p50, p90 = (prospect.gross(point_of_order(costs, share)) for share in (0.1, 0.5, 0.9))
    # Whole millionths add without rounding, so that the mean is the same on every machine.
    mean = prospect.gross(round(float(costs.sum()) / costs.size))
    return Likely(chances, mean, p10, p50, p90, float((costs <= 0).mean()), costs.size, seed)

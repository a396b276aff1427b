"""Turns what nobody looked at into what a fault there would cost on top of what is known."""

from collections.abc import Mapping, Sequence
from decimal import Decimal

import numpy as np

from inspect_report.advise.bundle_prices import BundlePrices
from inspect_report.advise.buyer import Hidden
from inspect_report.advise.causes import Asking, Cause, Unseen
from inspect_report.advise.prospect import KNOWN, Prospect, jobs_done
from inspect_report.records.position import ENGINE


def hidden(
    prospect: Prospect, seen: Sequence[Unseen], shares: Mapping[str, float]
) -> tuple[tuple[Hidden, ...], Decimal]:
    """
    What nobody looked at, each priced on top of what is known, and all of it at once.

    Args:
        prospect: What is known, and the books.
        seen: What nobody looked at, in the order it is told in.
        shares: Shares of such engines that the workshop knows, by characteristic.
    """
    if not seen:
        return (), Decimal(0)
    prices = _hidden_prices(prospect, seen)
    count = len(seen)
    # Columns: what is known; each at one place; each at all its places; everything at all places.
    sets = np.zeros((1 + 2 * count, 2 + 2 * count), np.bool_)
    sets[KNOWN] = True
    sets[1:, 1:-1] = np.eye(2 * count, dtype=np.bool_)
    sets[1 + count :, -1] = True
    done = prices.bundles.done(sets)
    low, high, on_request = prices.cost(done, "low"), prices.cost(done, "high"), prices.on_request(done)
    jobs = {n: jobs_done(prices.bundles, done, n + count, n + count) for n in range(1, 1 + count)}
    rows = tuple(
        Hidden(
            characteristic=one.characteristic,
            name=one.first.name,
            assembly=one.first.assembly,
            positions=one.positions,
            reason=one.reason,
            outside_depth=one.outside_depth,
            jobs=jobs[n],
            work=prospect.names(jobs[n]),
            low=prospect.gross(low[n] - low[0]),
            high=prospect.gross(high[n + count] - high[0]),
            on_request=int(on_request[n + count] - on_request[0]),
            share=shares.get(one.characteristic),
        )
        for n, one in enumerate(seen, 1)
    )
    return rows, prospect.gross(high[-1] - high[0])


def _hidden_prices(prospect: Prospect, seen: Sequence[Unseen]) -> BundlePrices:
    """Prices of what is needed with faults nobody has seen: rows for one place each, then for all places."""
    everywhere = [
        Cause(one.characteristic, one.first.name, ENGINE, "measured", 0.0, one.findings) for one in seen
    ]
    asking = Asking(prospect.sighted, everywhere, prospect.patterns)
    asks = [*asking.of_items(KNOWN, prospect.needed)]
    for n, (one, cause) in enumerate(zip(seen, everywhere, strict=True), 1):
        asks += asking.of_cause(n, Cause(one.characteristic, "", ENGINE, "measured", 0.0, (one.first,)))
        asks += asking.of_cause(n + len(seen), cause)
    items = {i.job: i for i in prospect.needed} | asking.items
    return prospect.prices(asks, items.values(), 1 + 2 * len(seen))

"""How fast one full priced job is, against drawing the same open facts at random (Monte Carlo) in the same run.

Run: python tests/benchmarks/price_speed.py [jobs]

The engine prices the ends of the open facts, exactly and with a trail. The simulations draw 10,000 jobs for the
range and again for each open fact's narrowing, from a cost model written out by hand for this one job: in plain
Python, and with numpy where it is installed. Figures depend on the machine; the ratio is the result.
"""

import importlib.util
import random
import sys
import time
from datetime import date

from assistant.loading.pricing import load_price_book
from assistant.pricing import price
from assistant.rulebook import Rulebook

TODAY = date(2027, 3, 1)
FACTS = {  # an invented inquiry: size and setting open, place not said, strike not said
    "pieces": [{"kind": "garland", "count": 1, "length_ft": [8, 14]}, {"kind": "column", "count": 2}],
    "density": "standard",
    "colours": ["blush", "gold", "white"],
    "event_date": {"status": "stated", "value": "2027-10-16"},
}


DRAWS = 10_000
OPEN = {"size": {"feet", "tall"}, "place": {"miles"}, "setting": {"install"}}


def simulated_price(feet, tall, miles, install):
    """The garland and the column pair in plain arithmetic; works for floats and for numpy arrays alike."""
    supplies = feet * 2.61 * 1.10 + 59 + 2 * (tall * 32 / 6.5 * 0.19 * 1.10 + 11.5)
    building = feet * 13 / 60 + 2 * tall * 15 / 6.5 / 60
    hours = 2.75 + building + install * (18 + 3 * feet + 30) / 60 + 4 * miles / 40
    direct = supplies + (4 * miles + 10) * 0.725 + 10 + hours * 30
    return (direct + 0.30) / 0.701


def with_narrowing(simulate):
    """Return the simulated range, and the width of the range with each open fact known."""
    low, _, high = simulate(set())
    widths = {}
    for fact, names in OPEN.items():
        ends = simulate(names)
        widths[fact] = ends[2] - ends[0]
    return low, high, widths


def plain_monte_carlo(known):
    rng = random.Random(1)

    def one():
        return simulated_price(
            11 if "feet" in known else rng.uniform(8, 14),
            6.5 if "tall" in known else rng.uniform(5, 8),
            20 if "miles" in known else rng.uniform(5, 40),
            1 if "install" in known else rng.choice([1, 1.25, 1.5]),
        )

    prices = sorted(one() for _ in range(DRAWS))
    return prices[0], prices[DRAWS // 2], prices[-1]


def numpy_monte_carlo(known):
    import numpy as np

    rng = np.random.default_rng(1)
    prices = simulated_price(
        11 if "feet" in known else rng.uniform(8, 14, DRAWS),
        6.5 if "tall" in known else rng.uniform(5, 8, DRAWS),
        20 if "miles" in known else rng.uniform(5, 40, DRAWS),
        1 if "install" in known else rng.choice([1, 1.25, 1.5], DRAWS),
    )
    return tuple(np.quantile(prices, [0, 0.5, 1]))


def milliseconds(work, times):
    work()
    started = time.perf_counter()
    for _ in range(times):
        work()
    return (time.perf_counter() - started) / times * 1000


def main():
    jobs = int(sys.argv[1]) if len(sys.argv) > 1 else 300
    book = load_price_book(Rulebook())
    rows = [
        ("engine: range, lines, supply list, narrowing", lambda: price(FACTS, book, today=TODAY).to_json(), jobs),
        ("plain simulation: range and narrowing", lambda: with_narrowing(plain_monte_carlo), max(2, jobs // 50)),
        ("numpy simulation: range and narrowing", lambda: with_narrowing(numpy_monte_carlo), jobs),
    ]
    if importlib.util.find_spec("numpy") is None:
        print("numpy is not installed: its simulation is left out")
        rows.pop()
    took = [milliseconds(work, times) for _, work, times in rows]
    for (name, _, _), each in zip(rows, took, strict=True):
        print(f"{each:8.3f} ms  {each / took[0]:6.2f} x  {name}")
    open_facts = price(FACTS, book, today=TODAY).to_json()["narrowing"]
    print(f"{len(open_facts)} open facts: {', '.join(row['fact'] for row in open_facts)}")


if __name__ == "__main__":
    main()

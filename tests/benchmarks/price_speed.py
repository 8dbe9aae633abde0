"""How fast one full priced job is, against drawing the same open facts at random (Monte Carlo) in the same run.

Run: python tests/benchmarks/price_speed.py [jobs]

The range by ends prices a handful of cases; a simulation with numpy draws 10,000 jobs from a hand-vectorised cost
model, and one without numpy draws 200 through plain floats. Figures depend on the machine; the ratio is the result.
"""

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


def simulated_price(feet, tall, miles, install):
    """The garland and the column pair in plain arithmetic; works for floats and for numpy arrays alike."""
    supplies = feet * 2.61 * 1.10 + 59 + 2 * (tall * 32 / 6.5 * 0.19 * 1.10 + 11.5)
    hours = (
        2.25 + feet * 13 / 60 + 2 * tall * 15 / 6.5 / 60 + install * (18 + 3 * feet + 30) / 60 + 4 * miles / 40 + 0.5
    )
    direct = supplies + (4 * miles + 10) * 0.725 + 10 + hours * 30
    return (direct + 0.30) / 0.701


def plain_monte_carlo(draws=200):
    rng = random.Random(1)
    prices = sorted(
        simulated_price(rng.uniform(8, 14), rng.uniform(5, 8), rng.uniform(5, 40), rng.choice([1, 1.25, 1.5]))
        for _ in range(draws)
    )
    return prices[0], prices[draws // 2], prices[-1]


def numpy_monte_carlo(draws=10_000):
    import numpy as np

    rng = np.random.default_rng(1)
    prices = simulated_price(
        rng.uniform(8, 14, draws),
        rng.uniform(5, 8, draws),
        rng.uniform(5, 40, draws),
        rng.choice([1, 1.25, 1.5], draws),
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
        (
            "range, lines, supply list and narrowing",
            milliseconds(lambda: price(FACTS, book, today=TODAY).to_json(), jobs),
        ),
        ("range alone", milliseconds(lambda: price(FACTS, book, today=TODAY).exact, jobs)),
        ("plain simulation, 200 draws, range alone", milliseconds(plain_monte_carlo, jobs)),
    ]
    try:
        rows.append(("numpy simulation, 10,000 draws, range alone", milliseconds(numpy_monte_carlo, jobs)))
    except ImportError:
        print("numpy is not installed: its simulation is left out")
    for name, took in rows:
        print(f"{took:8.3f} ms  {took / rows[0][1]:6.2f} x  {name}")
    open_facts = price(FACTS, book, today=TODAY).to_json()["narrowing"]
    print(f"{len(open_facts)} open facts: {', '.join(row['fact'] for row in open_facts)}")


if __name__ == "__main__":
    main()

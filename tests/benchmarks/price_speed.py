"""How fast one full priced job is, against drawing the same open facts at random (Monte Carlo) in the same run.

Run: python -m tests.benchmarks.price_speed [jobs]

The engine prices the ends of the open facts, exactly and with a trail. The simulations draw 10,000 jobs for the
range and again for each open fact's worth, from the same model written out by hand for this one job: once in plain
Python, and with numpy where it is installed. Each draw also takes the studio's own figures between their ends. Every
simulated price must lie within the engine's range, which shows that the model is the same. Figures depend on the
machine; the ratio is the result.
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
FACTS = {  # an invented inquiry: size and setting open, place not said; columns come back, so a take-down is counted
    "pieces": [{"kind": "garland", "count": 1, "length_ft": [8, 14]}, {"kind": "column", "count": 2}],
    "density": "standard",
    "colours": ["blush", "gold", "white"],
    "event_date": {"status": "stated", "value": "2027-10-16"},
}
DRAWS = 10_000
FACTS_OPEN = ("size", "place", "setting")
WASTE, INSTALL, BALLAST = (0.10, 0.15, 0.25), (1.0, 1.25, 1.5), (0.0, 10.0, 15.0)  # indoor, covered, outdoor
MILES, SPEED = (5.0, 20.0, 60.0), (25.0, 40.0, 50.0)


def price_of(feet, tall, speed, miles, waste, install, ballast, own, larger):
    """The garland and the column pair by the whole model; works for floats and for numpy arrays alike."""
    used = own * (1 + waste)
    garland = feet * used * (6.5 * 0.10 + 5.0 * 0.19 + 1.2 * 0.55 + 0.25 * 1.40) + 9 + 22 + 12 + ballast
    columns = 2 * tall * used * 32 * 0.19 / 6.5 + 2 * (3 + 5 + 3.50 + ballast)
    building = own * (feet * 13 / 60 + 2 * tall * 15 / 6.5 / 60)
    installing = own * install * (18 + 3 * feet + 2 * 15) / 60
    drive = 2 * miles / speed
    hours = 1 + 0.75 + 0.5 + building + installing + 2 * drive + 0.5 * own
    direct = garland + columns + 16 + (10 + 4 * miles) * 0.725 + 10 + hours * 30
    return larger((direct + 0.30) / (1 - 0.12 - 0.029 - 0.15), 350)


def with_worth(simulate):
    """Return the simulated range, and the width of the range with each open fact known."""
    low, _, high = simulate("")
    widths = {}
    for fact in FACTS_OPEN:
        ends = simulate(fact)
        widths[fact] = ends[2] - ends[0]
    return low, high, widths


def speed_of(miles):
    """Straight from one row of the table to the next."""
    if miles <= MILES[0]:
        return SPEED[0]
    for near, far, slow, fast in zip(MILES, MILES[1:], SPEED, SPEED[1:], strict=False):
        if miles <= far:
            return slow + (miles - near) / (far - near) * (fast - slow)
    return SPEED[-1]


def plain_monte_carlo(known):
    rng = random.Random(1)

    def one():
        miles = 20 if known == "place" else rng.uniform(5, 40)
        setting = 0 if known == "setting" else rng.randrange(3)
        feet, tall = (11, 6.5) if known == "size" else (rng.uniform(8, 14), rng.uniform(5, 8))
        place = (WASTE[setting], INSTALL[setting], BALLAST[setting])
        return price_of(feet, tall, speed_of(miles), miles, *place, rng.uniform(0.8, 1.2), max)

    prices = sorted(one() for _ in range(DRAWS))
    return prices[0], prices[DRAWS // 2], prices[-1]


def numpy_monte_carlo(known):
    import numpy as np

    rng = np.random.default_rng(1)
    miles = np.full(DRAWS, 20.0) if known == "place" else rng.uniform(5, 40, DRAWS)
    setting = np.zeros(DRAWS, int) if known == "setting" else rng.integers(0, 3, DRAWS)
    feet = 11 if known == "size" else rng.uniform(8, 14, DRAWS)
    tall = 6.5 if known == "size" else rng.uniform(5, 8, DRAWS)
    place = (np.take(column, setting) for column in (WASTE, INSTALL, BALLAST))
    speed = np.interp(miles, MILES, SPEED)
    prices = price_of(feet, tall, speed, miles, *place, rng.uniform(0.8, 1.2, DRAWS), np.maximum)
    return tuple(np.quantile(prices, [0, 0.5, 1]))


def milliseconds(work, times):
    work()
    started = time.perf_counter()
    for _ in range(times):
        work()
    return (time.perf_counter() - started) / times * 1000


def check_the_model(quote):
    """Refuse to compare unlike models: what is drawn lies within the engine's range, its ends near the engine's."""
    low, _, high = plain_monte_carlo("")
    least, most = quote.exact[0] / 100, quote.exact[2] / 100
    if not (least <= low < least * 1.25 and most * 0.8 < high <= most):
        raise SystemExit(f"drawn {low:.2f} to {high:.2f}, priced {least:.2f} to {most:.2f}: not the same model")


def main():
    jobs = int(sys.argv[1]) if len(sys.argv) > 1 else 300
    book = load_price_book(Rulebook())
    check_the_model(price(FACTS, book, today=TODAY))
    rows = [
        ("engine: range and worth of each answer", lambda: price(FACTS, book, today=TODAY), jobs),
        ("engine: the whole answer with lines, hours, supply list", lambda: whole(book), jobs),
        ("plain simulation: range and worth of each answer", lambda: with_worth(plain_monte_carlo), max(2, jobs // 50)),
        ("numpy simulation: range and worth of each answer", lambda: with_worth(numpy_monte_carlo), jobs),
    ]
    if importlib.util.find_spec("numpy") is None:
        print("numpy is not installed: its simulation is left out")
        rows.pop()
    took = [milliseconds(work, times) for _, work, times in rows]
    for (name, _, _), each in zip(rows, took, strict=True):
        print(f"{each:8.3f} ms  {each / took[0]:7.1f} x  {name}")
    open_facts = price(FACTS, book, today=TODAY).to_json()["narrowing"]
    print(f"{len(open_facts)} open facts: {', '.join(row['fact'] for row in open_facts)}")


def whole(book):
    return price(FACTS, book, today=TODAY).to_json()


if __name__ == "__main__":
    main()

"""What must hold for every job: order, exact sums, and ranges that hold every way the open facts can turn out."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.pricing import Learned
from tests.pricing.jobs import book, garland, priced

FEW = settings(max_examples=40, deadline=None)
feet = st.decimals("1", "60", places=1).map(float)
miles = st.integers(0, 120)
share = st.decimals("0", "1", places=2).map(float)


def ends(low, high, places=1):
    number = st.decimals(low, high, places=places).map(float)
    return st.tuples(number, number).map(sorted)


KINDS = ["garland", "arch", "hoop", "column", "wall", "bouquet", "centerpiece", "marquee", "ceiling", "drop"]
measures = st.fixed_dictionaries(
    {}, optional={"length_ft": ends("2", "60"), "width_ft": ends("2", "20"), "height_ft": ends("3", "12")}
)
one_piece = st.builds(
    lambda kind, size, count: {"kind": kind, **size, **count},
    st.sampled_from(
        ["garland", "arch", "hoop", "column", "wall", "bouquet", "centerpiece", "marquee", "ceiling", "drop"]
    ),
    measures,
    st.fixed_dictionaries({}, optional={"count": st.integers(1, 4)}),
)
days = st.dates(date(2027, 3, 2), date(2028, 2, 28)).map(date.isoformat)
sheets = st.fixed_dictionaries(
    {"pieces": st.lists(one_piece, min_size=1, max_size=3)},
    optional={
        "density": st.sampled_from(["light", "standard", "lush"]),
        "finish": st.fixed_dictionaries({"mirror": st.just(0.2), "doubled": share.map(lambda s: s * 0.8)}),
        "miles": ends("0", "120"),
        "strike": st.booleans(),
        "setting": st.sampled_from(["indoor", "covered"]),
        "crew": st.integers(1, 4),
        "discount": st.sampled_from(["repeat", "planner"]),
        "long_carry": st.booleans(),
        "window_minutes": st.integers(30, 200),
        "stock": st.sampled_from([{}, {"11": {"white": 9, "navy": 100}}]),
        "strike_time": st.sampled_from(["20:00", "21:30", "23:30"]),
        "stand": st.booleans(),
        "event_date": st.one_of(days, st.lists(days, min_size=2, max_size=5).map(lambda d: {"options": d})),
        "colours": st.lists(st.sampled_from(["white", "sage", "chrome gold", "navy"]), max_size=6, unique=True),
    },
)


def exact(facts):
    return priced(facts).exact[1]


@FEW
@given(feet, feet, st.sampled_from(["garland", "arch", "hoop"]))
def test_a_longer_piece_never_costs_less(one, other, kind):
    shorter, longer = ([{"kind": kind, "length_ft": length}] for length in sorted((one, other)))
    assert exact(garland(pieces=shorter, crew=None)) <= exact(garland(pieces=longer, crew=None))


@FEW
@given(*[st.decimals("1", "30", places=1).map(float)] * 4)
def test_a_wider_and_higher_arch_never_costs_less(width, height, wider, higher):
    small = {"kind": "arch", "width_ft": min(width, wider), "height_ft": min(height, higher)}
    large = {"kind": "arch", "width_ft": max(width, wider), "height_ft": max(height, higher)}
    assert exact(garland(pieces=[small], crew=None)) <= exact(garland(pieces=[large], crew=None))


@FEW
@given(*[st.decimals("3", "30", places=1).map(float)] * 2, st.sampled_from(["garland", "column", "wall", "drop"]))
def test_a_higher_piece_never_costs_less(one, other, kind):
    """Ladder, second installer and lift all come with height and never go."""
    low, high = ([{"kind": kind, "height_ft": height}] for height in sorted((one, other)))
    if kind == "garland":
        low, high = ([{**piece, "length_ft": 8} for piece in pieces] for pieces in (low, high))
    cheap, dear = (priced(garland(pieces=pieces, crew=None, strike=True)).exact for pieces in (low, high))
    assert all(less <= more for less, more in zip(cheap, dear, strict=True))


@FEW
@given(st.integers(1, 200), st.integers(1, 200), st.sampled_from(["bouquet", "drop"]))
def test_more_balloons_never_cost_less(one, other, kind):
    few, many = ([{"kind": kind, "balloons": number}] for number in sorted((one, other)))
    assert exact(garland(pieces=few)) <= exact(garland(pieces=many))


@FEW
@given(feet)
def test_a_denser_garland_never_costs_less(length):
    light, standard, lush = (exact(garland(length, density=d)) for d in ("light", "standard", "lush"))
    assert light <= standard <= lush


@FEW
@given(st.decimals("0", "300", places=1).map(float), st.decimals("0", "300", places=1).map(float))
def test_a_farther_place_never_costs_less(one, other):
    near, far = sorted((one, other))
    assert exact(garland(miles=near)) <= exact(garland(miles=far))


@FEW
@given(share, share, st.sampled_from(["doubled", "mirror"]))
def test_more_of_a_costly_finish_never_costs_less(one, other, finish):
    less, more = sorted((one, other))
    assert exact(garland(finish={finish: less})) <= exact(garland(finish={finish: more}))


@FEW
@given(st.integers(0, 400), st.integers(0, 400))
def test_asking_later_never_costs_less(one, other):
    early, late = sorted(date.fromordinal(date(2027, 10, 16).toordinal() - days) for days in (one, other))
    facts = garland()
    assert priced(facts, today=early).exact[1] <= priced(facts, today=late).exact[1]


@FEW
@given(sheets)
def test_figures_are_in_order_and_lines_add_up_exactly(facts):
    quote = priced(facts)
    assert quote.shown[0] <= quote.shown[1] <= quote.shown[2]
    assert quote.exact[0] <= quote.exact[1] <= quote.exact[2]
    assert quote.shown[0] <= quote.exact[0] or quote.shown[0] == book().prices.minimum_order * 100
    assert quote.shown[2] >= quote.exact[2]
    for case in (quote.priced.low, quote.priced.likely, quote.priced.high):
        full = case.base + case.peak + case.rush
        assert sum(case.lines().values()) == pytest.approx(full, abs=Decimal("1e-15"))
        assert case.raised == (full < case.price)
    for i, end in enumerate(("low", "likely", "high")):
        assert sum(getattr(line, end) for line in quote.lines) == quote.shown[i]
    assert all(0 <= line.low <= line.likely <= line.high for line in quote.lines)
    low, likely, high = quote.take_home_per_hour
    assert low <= likely <= high
    assert quote.floor <= quote.exact[1]


def comes_back(piece):
    return piece["kind"] in ("column", "wall", "drop") or piece.get("shape") == "hung"


def completions(facts):
    """Every way the open facts can turn out, on a small grid within what the rules price."""
    for shaped in shapes(facts):
        yield from completions_of(shaped)


def shapes(facts):
    """The facts with all ceilings hung, and with all of them loose."""
    for shape in ("hung", "loose"):
        pieces = [{**piece, "shape": shape} if piece["kind"] == "ceiling" else piece for piece in facts["pieces"]]
        yield {**facts, "pieces": pieces}


def completions_of(facts):
    unknown = book().prices.unknown
    choices = {}
    indoors = any(piece["kind"] in ("ceiling", "drop") for piece in facts["pieces"])
    if "setting" not in facts:
        choices["setting"] = ["indoor", "covered"] if indoors else unknown.setting.options
    if "strike" not in facts:
        choices["strike"] = [True] if any(comes_back(p) for p in facts["pieces"]) else [False, True]
    span = facts.get("miles") or [float(unknown.place_not_said.low), float(unknown.place_not_said.high)]
    choices["miles"] = [span[0], sum(span) / 2, span[1]]
    if "finish" not in facts and not facts.get("colours"):
        most = float(unknown.finish.doubled.high)
        choices["finish"] = [{}, {"doubled": most}]
    if isinstance(facts.get("event_date"), dict):
        choices["event_date"] = facts["event_date"]["options"][:2]
    choices["pieces"] = [_filled(facts, part) for part in (0, 0.5, 1)]
    for values in product(*choices.values()):
        yield {**facts, **dict(zip(choices, values, strict=True))}


def _filled(facts, part):
    """Each given range at one point of it; what is not said stays so."""
    return [
        {key: value[0] + (value[1] - value[0]) * part if isinstance(value, list) else value for key, value in p.items()}
        for p in facts["pieces"]
    ]


@settings(max_examples=12, deadline=None)
@given(sheets)
def test_the_range_holds_every_way_the_open_facts_can_turn_out(facts):
    low, _, high = priced(facts).exact
    for known in completions(facts):
        inside = priced(known).exact
        assert low <= inside[0]
        assert inside[2] <= high


@FEW
@given(sheets)
def test_knowing_a_fact_never_widens_the_range(facts):
    quote = priced(facts)
    for row in quote.priced.narrowing:
        assert row.width_if_known <= row.width_now
    assert all(row.width_now == quote.priced.high.price - quote.priced.low.price for row in quote.priced.narrowing)


FINISHES = replace(book().prices.finishes, mirror=replace(book().prices.finishes.mirror, build=Decimal("1.2")))
SLOW_MIRROR = replace(book().prices, finishes=FINISHES)
TAUGHT = Learned(build=Decimal("1.1"), install=Decimal("1.3"), balloons=Decimal("0.9"), jobs=5)


@FEW
@given(sheets, st.sampled_from([{}, {"garland": TAUGHT, "column": TAUGHT, "bouquet": TAUGHT}]))
def test_the_quick_sums_and_the_written_entries_are_the_same_cost(facts, learned):
    quote = priced(facts, replace(book(), prices=SLOW_MIRROR, learned=learned))
    for case in (quote.priced.low, quote.priced.likely, quote.priced.high, quote.priced.quick, quote.priced.slow):
        sums, costing = case.sums, case.costing
        by_line = {"planning": sums.planning, "delivery": sums.delivery, "strike": sums.strike}
        by_line |= {f"piece {i}": amount for i, amount in enumerate(sums.pieces)}
        written = dict.fromkeys(by_line, Decimal(0))
        for entry in costing.entries:
            written[entry.line] += entry.amount
        nearly = {line: pytest.approx(amount, abs=Decimal("1e-15")) for line, amount in written.items()}
        assert by_line == nearly
        assert sums.direct == pytest.approx(costing.direct, abs=Decimal("1e-15"))
        assert sums.paid_out == pytest.approx(costing.paid_out, abs=Decimal("1e-15"))
        assert sums.own_hours == pytest.approx(costing.own_hours, abs=Decimal("1e-15"))


@FEW
@given(st.integers(1, 12), st.integers(1, 12), st.integers(0, 2))
def test_each_further_piece_costs_less_together_than_alone(one, other, count):
    """The fixed part of the visit is shared; a second installer is left out by giving the crew."""
    first = {"kind": "garland", "length_ft": one + 4}
    second = {"kind": "column", "count": count + 1, "height_ft": 4 + other / 2}
    together = exact(garland(pieces=[first, second]))
    apart = exact(garland(pieces=[first])) + exact(garland(pieces=[second]))
    assert max(exact(garland(pieces=[first])), exact(garland(pieces=[second]))) <= together < apart

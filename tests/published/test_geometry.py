"""Running lengths against published formulas and a reference library."""

from math import asinh, hypot, pi, sqrt

import pytest
from scipy.special import ellipe

from assistant.pricing.geometry import (
    half_arch,
    half_ellipse,
    hoop,
    legs_and_half_circle,
    square_frame,
    stairs,
    swag,
)


def exact_half_ellipse(width, height):
    """Half of the perimeter 4 a E(m), m = 1 - b^2/a^2, by the complete elliptic integral (scipy.special.ellipe)."""
    a, b = max(width / 2, height), min(width / 2, height)
    return 2 * a * ellipe(1 - b**2 / a**2)


@pytest.mark.parametrize(
    ("a", "b", "half"),
    [
        (1, 1, 3.141592654),
        (2, 1, 4.844224110),
        (3, 2, 7.932719795),
        (5, 3, 12.763499432),
        (4, 2.5, 10.346569018),
        (10, 1, 20.319870901),
    ],
)
def test_half_the_perimeter_of_an_ellipse_is_met(a, b, half):
    """Exact halves from the elliptic integral; Ramanujan's second approximation (1914) is off by 1.2e-5 at 10:1."""
    assert half_ellipse(2 * a, b) == pytest.approx(half, rel=2e-9 if a / b <= 2 else 2e-5)
    assert exact_half_ellipse(2 * a, b) == pytest.approx(half, rel=1e-9)


@pytest.mark.parametrize("width", [4, 6, 8, 10, 12, 16, 20, 30])
@pytest.mark.parametrize("height", [3, 6, 7, 8, 10, 12])
def test_any_arch_agrees_with_the_elliptic_integral(width, height):
    assert half_ellipse(width, height) == pytest.approx(exact_half_ellipse(width, height), rel=2e-5)


@pytest.mark.parametrize(
    ("width", "height", "feet"),
    [(6, 7, 16.3), (8, 8, 19.4), (10, 8, 20.7), (12, 8, 22.1), (16, 8, 25.1), (20, 10, 31.4)],
)
def test_usual_arches_have_the_worked_length(width, height, feet):
    """Arithmetic by the same formula, rounded to a tenth of a foot."""
    assert half_ellipse(width, height) == pytest.approx(feet, abs=0.06)


def test_other_outlines_have_the_worked_length():
    """Plain geometry: 8x8 on legs 20.6, three sides 24, 6 up and 8 across 13.6, rings of 6 and 7 ft."""
    assert legs_and_half_circle(8, 8) == pytest.approx(20.6, abs=0.05)
    assert square_frame(8, 8) == 24
    assert half_arch(6, 8) == pytest.approx(13.6, abs=0.05)
    rings = [hoop(d, share) for d in (6, 7) for share in (1, 1 / 2, 2 / 3)]
    assert rings == pytest.approx([18.8, 9.4, 12.6, 22.0, 11.0, 14.7], abs=0.06)


def test_the_rounded_corner_is_a_quarter_circle():
    """A corner of radius r replaces two legs of r by a quarter circle of length pi r / 2."""
    assert half_arch(6, 8, 2) == pytest.approx((6 - 2) + (8 - 2) + pi * 2 / 2)


def test_a_low_frame_arch_is_no_longer_than_its_square():
    assert half_ellipse(8, 3) == legs_and_half_circle(8, 3) < square_frame(8, 3)


def test_a_flight_of_stairs_follows_the_slope():
    """Slope per step at the limits of IRC 2018 R311.7.5 (riser 7.75 in, tread 10 in) is 12.651581 in."""
    assert stairs(1, 7.75, 10) * 12 == pytest.approx(12.651581, abs=1e-6)
    assert stairs(13) == pytest.approx(13 * hypot(7.5, 10.5) / 12)
    assert round(stairs(13)) == 14


def parabola(span, sag):
    """Arc of a parabola: (L/2) sqrt(1 + x^2) + (L^2 / 8h) asinh(x), x = 4h/L."""
    x = 4 * sag / span
    return span / 2 * sqrt(1 + x * x) + span * span / (8 * sag) * asinh(x)


def test_a_swag_is_the_first_term_of_the_parabola():
    """10 ft with 2 ft sag: exact arc 10.98230084, the shallow-swag formula 11.07."""
    assert parabola(10, 2) == pytest.approx(10.98230084, abs=1e-8)
    assert swag(10, 2) == pytest.approx(11.1, abs=0.04)
    for sag in (0.25, 0.5, 1, 2):
        assert parabola(10, sag) <= swag(10, sag) <= parabola(10, sag) * 1.01

"""Running length of a piece from its outline. Every length is in feet; angles are in radians.

The formulas are plain geometry; the half ellipse uses Ramanujan's second approximation (1914), whose error
stays below 5e-10 of the length for axes up to 2:1.
"""

from math import pi, sqrt


def half_ellipse(width: float, height: float) -> float:
    """Return the length of an arch with both feet on the floor: half an ellipse, ``width`` between its feet."""
    a, b = width / 2, height
    h = ((a - b) / (a + b)) ** 2
    return pi * (a + b) * (1 + 3 * h / (10 + sqrt(4 - 3 * h))) / 2


def legs_and_half_circle(width: float, height: float) -> float:
    """Return the length of a frame arch: two straight legs with a half circle on top (height at least width / 2)."""
    if height < width / 2:
        return half_ellipse(width, height)
    return pi * width / 2 + 2 * (height - width / 2)


def square_frame(width: float, height: float) -> float:
    """Return the length of the three sides of a frame: up, across and down."""
    return 2 * height + width


def half_arch(up: float, across: float, corner_radius: float = 1.0) -> float:
    """Return the length of an L: one side up, then across the top; the rounded corner saves 2r - pi r / 2."""
    radius = min(corner_radius, up, across)
    return up + across - (2 - pi / 2) * radius


def hoop(diameter: float, share: float) -> float:
    """Return the length along a round stand of which ``share`` (0 to 1) is covered."""
    return pi * diameter * share


def swag(span: float, sag: float) -> float:
    """Return the length of a shallow swag that hangs ``sag`` below its two ends (first term of the parabola)."""
    return span * (1 + 8 / 3 * (sag / span) ** 2)


def stairs(steps: int, rise_inches: float = 7.5, run_inches: float = 10.5) -> float:
    """Return the length along a handrail over ``steps`` steps."""
    return steps * sqrt(rise_inches**2 + run_inches**2) / 12

"""Helium: how much a balloon takes, what it lifts, how many cylinders that is, and what height and heat change.

Prices go by a supplier's chart, which overfills (necks, stretch); the plain sphere is here for checks. Gases are
taken as ideal, within 0.1 % of measured densities for air and helium near room temperature.
"""

from math import ceil, pi

GAS_CONSTANT = 8.314462618  # J/(mol K), CODATA 2018, exact
AIR_KG_PER_MOL = 0.02896442  # dry air at sea level (ISO 2533)
HELIUM_KG_PER_MOL = 0.004002602  # standard atomic weight, IUPAC
SEA_LEVEL_PA = 101_325.0  # standard atmosphere, exact
CUBIC_METRES_IN_A_CUBIC_FOOT = 0.3048**3
METRES_IN_A_FOOT = 0.3048
CHART_F = 70.0  # charts and cylinder contents are for 70 F at sea level


def kelvin(fahrenheit: float) -> float:
    """Return a temperature in kelvin."""
    return (fahrenheit - 32) / 1.8 + 273.15


def pressure(altitude_ft: float) -> float:
    """Return the pressure (Pa) at an altitude by the International Standard Atmosphere (ISO 2533), up to 36,000 ft."""
    return float(SEA_LEVEL_PA * (1 - 2.25577e-5 * altitude_ft * METRES_IN_A_FOOT) ** 5.25588)


def sphere(diameter_inches: float) -> float:
    """Return the volume of a sphere in cubic feet."""
    return pi * (diameter_inches / 12) ** 3 / 6


def density(kg_per_mol: float, fahrenheit: float, altitude_ft: float) -> float:
    """Return the density (kg per cubic metre) of an ideal gas."""
    return pressure(altitude_ft) * kg_per_mol / (GAS_CONSTANT * kelvin(fahrenheit))


def gross_lift(cubic_ft: float, fahrenheit: float = CHART_F, altitude_ft: float = 0) -> float:
    """Return the grams that ``cubic_ft`` of helium lift in still air, the balloon's own weight not taken off."""
    air = density(AIR_KG_PER_MOL, fahrenheit, altitude_ft)
    helium = density(HELIUM_KG_PER_MOL, fahrenheit, altitude_ft)
    return (air - helium) * cubic_ft * CUBIC_METRES_IN_A_CUBIC_FOOT * 1000


def thinner(fahrenheit: float = CHART_F, altitude_ft: float = 0) -> float:
    """Return how dense air and helium are against 70 F at sea level: a fill takes, and lifts, that share."""
    return pressure(altitude_ft) / SEA_LEVEL_PA * kelvin(CHART_F) / kelvin(fahrenheit)


def grows_by_heat(from_fahrenheit: float, to_fahrenheit: float) -> float:
    """Return the factor on a soft balloon's volume when it warms or cools (Charles's law)."""
    return kelvin(to_fahrenheit) / kelvin(from_fahrenheit)


def grows_by_height(to_altitude_ft: float, from_altitude_ft: float = 0) -> float:
    """Return the factor on a soft balloon's volume when it is carried up (Boyle's law)."""
    return pressure(from_altitude_ft) / pressure(to_altitude_ft)


def cylinders(cubic_ft: float, cylinder_cubic_ft: float, usable: float) -> int:
    """Return how many cylinders hold ``cubic_ft`` of gas when only a ``usable`` share of each comes out."""
    return ceil(cubic_ft / (cylinder_cubic_ft * usable) - 1e-9)

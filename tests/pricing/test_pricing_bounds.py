"""Which options can be the cheapest and the dearest."""

from decimal import Decimal

from assistant.pricing.bounds import extremes


def figures(option):
    return tuple(Decimal(part) for part in option.split())


def test_an_option_that_is_least_in_every_figure_is_the_cheapest_one():
    assert extremes(["1 1", "2 3", "3 2"], figures) == (["1 1"], ["2 3", "3 2"])


def test_options_that_cannot_be_ranked_all_stay():
    assert extremes(["1 2", "2 1"], figures) == (["1 2", "2 1"], ["1 2", "2 1"])


def test_of_equal_options_the_first_stays():
    assert extremes(["1  1", "1 1"], figures) == (["1  1"], ["1  1"])

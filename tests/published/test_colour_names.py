"""CSS Color Module Level 4 (W3C), section 6.1, named colours: those that are everyday words are read as colours.

The list of names is from memory of that table; the ones left out are no words that people write in a message
("papayawhip", "rebeccapurple") or name other things first ("tomato", "wheat", "snow", "seashell", "linen").
"""

from datetime import date

import pytest

from assistant.loading.reading import load_reader
from assistant.rulebook import Rulebook

READER = load_reader(Rulebook())
ONE_WORD = [
    "aqua",
    "aquamarine",
    "beige",
    "black",
    "blue",
    "brown",
    "chartreuse",
    "chocolate",
    "coral",
    "crimson",
    "cyan",
    "fuchsia",
    "gold",
    "gray",
    "green",
    "grey",
    "indigo",
    "ivory",
    "khaki",
    "lavender",
    "lime",
    "magenta",
    "maroon",
    "navy",
    "olive",
    "orange",
    "orchid",
    "pink",
    "plum",
    "purple",
    "red",
    "salmon",
    "silver",
    "tan",
    "teal",
    "turquoise",
    "violet",
    "white",
    "yellow",
]
TWO_WORDS = [
    "dark blue",
    "dark green",
    "dark orange",
    "dark red",
    "deep pink",
    "forest green",
    "hot pink",
    "light blue",
    "light green",
    "lime green",
    "light pink",
    "light yellow",
    "midnight blue",
    "pale green",
    "powder blue",
    "royal blue",
    "sea green",
    "sky blue",
    "slate gray",
    "steel blue",
    "dark violet",
    "medium purple",
    "light coral",
    "olive drab",
    "saddle brown",
]
NO_EVERYDAY_WORD = {"olive drab", "saddle brown"}  # read as the plain colour inside


@pytest.mark.parametrize("name", ONE_WORD + [name for name in TWO_WORDS if name not in NO_EVERYDAY_WORD])
def test_a_named_colour_of_the_web_is_read_as_a_colour(name: str) -> None:
    reading = READER.read(f"colors: {name} and burgundy", today=date(2027, 3, 1))
    assert [finding.value for finding in reading.of("colours")] == [name, "burgundy"]

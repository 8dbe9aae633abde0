"""Who takes the piece down, and how full it should be."""

from datetime import date

import pytest

from assistant.loading.reading import load_reader
from assistant.rulebook import Rulebook

READER = load_reader(Rulebook())


def wish(text: str, key: str) -> object:
    found = READER.read(text, today=date(2027, 3, 1)).of(key)
    return found[-1].value if found else None


@pytest.mark.parametrize(
    "text",
    [
        "10 ft garland, you'd take it down after",
        "yes please come back and take it down",
        "we need set up and take down",
        "somebody has to come back for the stands",
        "que lo desmonten despues por favor",
    ],
)
def test_the_studio_comes_back(text: str) -> None:
    assert wish(text, "strike") is True


@pytest.mark.parametrize(
    "text",
    [
        "we'll take it down ourselves",
        "id like to keep the balloons",
        "no need to come back",
        "nos quedamos con los globos",
    ],
)
def test_the_client_takes_it_down(text: str) -> None:
    assert wish(text, "strike") is False


@pytest.mark.parametrize(("text", "density"), [("nice and full", "lush"), ("light and airy please", "light")])
def test_fullness(text: str, density: str) -> None:
    assert wish(text, "density") == density


@pytest.mark.parametrize(
    "text", ["light pink and white", "full name is Dana", "come to the back door", "keep me posted"]
)
def test_other_words_wish_nothing(text: str) -> None:
    assert wish(text, "density") is None
    assert wish(text, "strike") is None

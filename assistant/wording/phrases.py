"""Small words of one language: pieces, settings, patterns for days and hours (rules/phrases.yaml)."""

from dataclasses import dataclass
from typing import ClassVar


@dataclass(frozen=True)
class Phrases:
    """The words of one language that replies are put together from; fields in {braces} as in templates."""

    __pydantic_config__: ClassVar = {"extra": "forbid"}
    conjunction: str
    alternative: str
    intro: str
    greeting: str
    read_back: str
    day: str
    day_with_year: str
    short_day: str
    clock: str
    feet: str
    range: str
    sized: str
    counted: str
    pieces: dict[str, tuple[str, str]]
    settings: dict[str, str]
    included: str
    included_take_down: str
    percent: str
    full_amount: str
    tax: str
    caution: str
    cautions: list[str]

    def __post_init__(self) -> None:
        for name, wanted in (
            ("sized", ("{size}", "{noun}")),
            ("counted", ("{count}", "{noun}", "{size}")),
            ("range", ("{low}",)),
        ):
            for field in wanted:
                if field not in getattr(self, name):
                    raise ValueError(f"{name} lacks {field}: write both fields, in the order of the language")


@dataclass(frozen=True)
class PhraseFile:
    """rules/phrases.yaml."""

    __pydantic_config__: ClassVar = {"extra": "forbid"}
    languages: dict[str, Phrases]

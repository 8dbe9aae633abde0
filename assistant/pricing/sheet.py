"""Reads a fact sheet for pricing: checks each fact, and fills what is missing with what the rules price instead."""

from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal
from typing import Any, cast

from assistant.pricing.book import DesignerDecides, PriceBook
from assistant.pricing.given import FactWrong, Given, given, number, word, yes_or_no
from assistant.pricing.job import Assumed, Choice, Job, JobPiece, note_inferred
from assistant.pricing.sheet_finish import colour_shares_of, colours_of, finish_shares_of
from assistant.pricing.sheet_pieces import read_pieces
from assistant.pricing.sheet_terms import discount_of, stock_of
from assistant.pricing.sheet_visit import crew_of, dates_of, late_strike_of, miles_of, pick_up_of, window_of
from assistant.pricing.unknowns import Between, Density, OneOf, SettingWord, exactly

DENSITIES: tuple[Density, ...] = ("light", "standard", "lush")
SETTINGS: tuple[SettingWord, ...] = ("indoor", "covered", "outdoor")


def read_job(facts: Mapping[str, Any], book: PriceBook, today: date) -> Job:
    """Return the job that ``facts`` describe, with every value each fact may have.

    Raises FactWrong for a fact that cannot be and DesignerDecides for a piece without a recipe.
    """
    if not isinstance(facts, Mapping):
        raise FactWrong('facts: not an object: write {"pieces": [...], ...}')
    assumed: list[Assumed] = []
    pieces = read_pieces(facts, book, assumed)
    colours = colours_of(given(facts, "colours"))
    shares = colour_shares_of(given(facts, "colour_shares"), colours, book)
    mirror, doubled, finish_fact = finish_shares_of(facts, colours, shares, book, assumed)
    pick_up = pick_up_of(given(facts, "pick_up"), facts, pieces)
    miles, miles_fact = (exactly(Decimal(0)), "miles") if pick_up else miles_of(facts, book, assumed)
    dates, event_day = dates_of(given(facts, "event_date"), book, today, assumed)
    unknown = book.prices.unknown
    setting = _indoors(pieces, _setting(facts, book, assumed))
    carry = given(facts, "long_carry")
    returns = any(piece.work.comes_back for piece in pieces)
    strike_rule = OneOf([True], True) if returns else unknown.strike
    strike_rule, why = (
        (OneOf([False], False), "picked up") if pick_up else (strike_rule, "what we bring comes down again")
    )
    return Job(
        pieces=pieces,
        pieces_said=bool(given(facts, "pieces").value),
        density=_density(facts, book, assumed),
        setting=setting,
        mirror=mirror,
        doubled=doubled,
        finish_fact=finish_fact,
        miles=miles,
        miles_fact=miles_fact,
        strike=_yes_no(facts, "strike", strike_rule, assumed, why if returns or pick_up else "not said"),
        stand=_yes_no(facts, "stand", unknown.stand, assumed),
        accents=_yes_no(facts, "accents", unknown.accents, assumed),
        client_only_colour=_yes_no(facts, "client_only_colour", unknown.client_only_colour, assumed),
        crew=crew_of(given(facts, "crew"), book),
        date=dates,
        today=today,
        event_day=event_day,
        late_strike=late_strike_of(given(facts, "strike_time"), book),
        pick_up=pick_up,
        window_minutes=window_of(facts, book),
        long_carry=yes_or_no(carry.value, "facts.long_carry") if carry.known else False,
        discount=discount_of(given(facts, "discount"), book, today, event_day, assumed),
        stock=stock_of(given(facts, "stock"), book),
        colours=colours,
        colour_shares=shares,
        budget=_budget(given(facts, "budget")),
        assumed=tuple(assumed),
    )


def _density(facts: Mapping[str, Any], book: PriceBook, assumed: list[Assumed]) -> Choice[Density]:
    rule = book.prices.unknown.density
    return cast(Choice[Density], _one_word(facts, "density", DENSITIES, rule.options, rule.likely, assumed))


def _setting(facts: Mapping[str, Any], book: PriceBook, assumed: list[Assumed]) -> Choice[SettingWord]:
    rule = book.prices.unknown.setting
    return cast(Choice[SettingWord], _one_word(facts, "setting", SETTINGS, rule.options, rule.likely, assumed))


def _indoors(pieces: Sequence[JobPiece], setting: Choice[SettingWord]) -> Choice[SettingWord]:
    """Leave outdoors out where a piece is built indoors only; where it was said, the designer decides."""
    inside = next((piece for piece in pieces if piece.work.indoors_only), None)
    if inside is None:
        return setting
    left = tuple(word for word in setting.options if word != "outdoor")
    if not left:
        raise DesignerDecides(f"{inside.piece.label} is built indoors only: needed is an indoor place")
    return Choice(left, setting.likely if setting.likely in left else left[0])


def _one_word(
    facts: Mapping[str, Any],
    name: str,
    known: Sequence[str],
    options: Sequence[str],
    likely: str,
    assumed: list[Assumed],
) -> Choice[str]:
    fact = given(facts, name)
    if fact.known:
        note_inferred(name, fact, assumed)
        return _fixed(word(fact.value, f"facts.{name}", known))
    left = [word(option, f"facts.{name}.options", known) for option in fact.options] or list(options)
    likely = likely if likely in left else left[0]
    assumed.append(Assumed(name, likely, _open_words("not said", left)))
    return Choice(tuple(left), likely)


def _yes_no(
    facts: Mapping[str, Any], name: str, rule: OneOf, assumed: list[Assumed], why: str = "not said"
) -> Choice[bool]:
    fact = given(facts, name)
    if fact.known:
        note_inferred(name, fact, assumed)
        return _fixed(yes_or_no(fact.value, f"facts.{name}"))
    assumed.append(Assumed(name, rule.likely, _open_words(why, ["yes" if o else "no" for o in rule.options])))
    return Choice(tuple(rule.options), rule.likely)


def _fixed(value: Any) -> Choice[Any]:
    return Choice((value,), value)


def _open_words(why: str, options: Sequence[str]) -> str:
    return f"{why}; the range covers {', '.join(options)}" if len(options) > 1 else f"{why}; the studio's usual"


def _budget(fact: Given) -> Between | None:
    if not fact.known:
        return None
    remedy = "write [least, most] with null for an open end"
    value = fact.value if isinstance(fact.value, list | tuple) else [None, fact.value]
    if len(value) != 2:
        raise FactWrong(f"facts.budget: {value!r:.40} has not two ends: {remedy}")
    most = Decimal(10_000_000)
    low, high = (None if end is None else number(end, "facts.budget", most=most, remedy=remedy) for end in value)
    if high is None:
        return None
    return Between(min(low or Decimal(0), high), high, high)

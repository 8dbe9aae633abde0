"""Reads a fact sheet for pricing: checks each fact, and fills what is missing with what the rules price instead."""

from collections import Counter
from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal
from typing import Any, cast

from assistant.pricing.book import DesignerDecides, PriceBook
from assistant.pricing.colours import finish_shares
from assistant.pricing.dates import DatePrice, date_price, minutes_of_night
from assistant.pricing.given import FactWrong, Given, between, days_of, given, number, text, word, yes_or_no
from assistant.pricing.job import Assumed, Choice, Job, JobPiece
from assistant.pricing.sheet_pieces import read_pieces
from assistant.pricing.unknowns import Between, Density, OneOf, SettingWord, exactly

ONE = Decimal(1)
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
    colours = _colours(given(facts, "colours"))
    mirror, doubled, finish_fact = _finish(facts, colours, book, assumed)
    miles, miles_fact = _miles(facts, book, assumed)
    dates, days_off = _dates(given(facts, "event_date"), book, today, assumed)
    unknown = book.prices.unknown
    setting = _setting(facts, book, assumed)
    _refuse_outdoors(pieces, setting)
    returns = any(piece.work.comes_back for piece in pieces)
    strike_rule = OneOf([True], True) if returns else unknown.strike
    return Job(
        pieces=pieces,
        pieces_said=given(facts, "pieces").known,
        density=_density(facts, book, assumed),
        setting=setting,
        mirror=mirror,
        doubled=doubled,
        finish_fact=finish_fact,
        miles=miles,
        miles_fact=miles_fact,
        strike=_yes_no(facts, "strike", strike_rule, assumed, "base and pole come back" if returns else "not said"),
        stand=_yes_no(facts, "stand", unknown.stand, assumed),
        accents=_yes_no(facts, "accents", unknown.accents, assumed),
        client_only_colour=_yes_no(facts, "client_only_colour", unknown.client_only_colour, assumed),
        crew=_crew(given(facts, "crew"), book),
        date=dates,
        days_off=days_off,
        late_strike=_late_strike(given(facts, "strike_time"), book),
        colours=colours,
        budget=_budget(given(facts, "budget")),
        assumed=tuple(assumed),
    )


def _density(facts: Mapping[str, Any], book: PriceBook, assumed: list[Assumed]) -> Choice[Density]:
    rule = book.prices.unknown.density
    return cast(Choice[Density], _one_word(facts, "density", DENSITIES, rule.options, rule.likely, assumed))


def _setting(facts: Mapping[str, Any], book: PriceBook, assumed: list[Assumed]) -> Choice[SettingWord]:
    rule = book.prices.unknown.setting
    return cast(Choice[SettingWord], _one_word(facts, "setting", SETTINGS, rule.options, rule.likely, assumed))


def _refuse_outdoors(pieces: Sequence[JobPiece], setting: Choice[SettingWord]) -> None:
    for piece in pieces:
        if piece.work.indoors_only and setting.options == ("outdoor",):
            raise DesignerDecides(f"{piece.piece.label} is built indoors only: needed is an indoor place")


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
        _note_inferred(name, fact, assumed)
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
        _note_inferred(name, fact, assumed)
        return _fixed(yes_or_no(fact.value, f"facts.{name}"))
    assumed.append(Assumed(name, rule.likely, _open_words(why, ["yes" if o else "no" for o in rule.options])))
    return Choice(tuple(rule.options), rule.likely)


def _fixed(value: Any) -> Choice[Any]:
    return Choice((value,), value)


def _open_words(why: str, options: Sequence[str]) -> str:
    return f"{why}; the range covers {', '.join(options)}" if len(options) > 1 else f"{why}; the studio's usual"


def _note_inferred(name: str, fact: Given, assumed: list[Assumed]) -> None:
    if fact.status == "inferred":
        assumed.append(Assumed(name, fact.value, "likely from the client's words; confirm in passing"))


def _colours(fact: Given) -> tuple[str, ...]:
    listed = fact.value or []
    if not isinstance(listed, list | tuple) or len(listed) > 50:
        raise FactWrong('facts.colours: no list of colour words: write ["blush", "gold"]')
    words = [item.get("value") if isinstance(item, Mapping) else item for item in listed]
    if not all(isinstance(item, str) and item.strip() for item in words):
        raise FactWrong('facts.colours: each colour is a word: write ["blush", "gold"]')
    return tuple(dict.fromkeys(cast(list[str], words)))


def _finish(
    facts: Mapping[str, Any], colours: tuple[str, ...], book: PriceBook, assumed: list[Assumed]
) -> tuple[Between, Between, str]:
    """Return the mirror and doubled shares, and the fact that would narrow them."""
    fact, prices = given(facts, "finish"), book.prices
    if fact.known:
        return *_finish_given(fact.value), "finish"
    if colours:
        shares = finish_shares(colours, prices.finish_words, prices.colour_shares)
        shown = {name: float(share) for name, share in shares.items() if share and name != "plain"}
        assumed.append(Assumed("finish", shown, "from the colour words; the rest of the balloons is plain"))
        return exactly(shares["mirror"]), exactly(shares["doubled"]), "finish"
    usual = prices.unknown.finish
    why = f"no colours yet: {usual.doubled.low} to {usual.doubled.high} of the balloons may be a custom doubled shade"
    assumed.append(Assumed("finish", {}, why))
    return usual.mirror, usual.doubled, "colours"


def _finish_given(value: Any) -> tuple[Between, Between]:
    remedy = 'write shares of the balloons such as {"mirror": 0.3, "doubled": 0.5}'
    if not isinstance(value, Mapping) or value.keys() - {"mirror", "doubled", "plain"}:
        raise FactWrong(f"facts.finish: {value!r:.60} is not made of mirror, doubled and plain: {remedy}")
    shares = {
        name: number(value.get(name, 0), f"facts.finish.{name}", most=ONE, remedy=remedy)
        for name in ("mirror", "doubled", "plain")
    }
    if sum(shares.values()) > 1:
        raise FactWrong(f"facts.finish: the shares add up to {sum(shares.values())}, more than 1: {remedy}")
    return exactly(shares["mirror"]), exactly(shares["doubled"])


def _miles(facts: Mapping[str, Any], book: PriceBook, assumed: list[Assumed]) -> tuple[Between, str]:
    """Return one-way road miles, and the fact that would narrow them."""
    fact, travel, unknown = given(facts, "miles"), book.prices.travel, book.prices.unknown
    value = fact.value if fact.known else list(fact.span) or None
    if value is not None:
        remedy = "give one-way road miles, or [least, most]"
        return between(value, "facts.miles", most=travel.most_miles, remedy=remedy), "miles"
    place = given(facts, "place").value
    if place is None:
        usual = unknown.place_not_said
        why = f"no place yet: {usual.low} to {usual.high} road miles one way"
        assumed.append(Assumed("miles", float(usual.likely), why))
        return usual, "place"
    if not isinstance(place, str):
        raise FactWrong(f"facts.place: {place!r:.40} is no text: write the venue, town or ZIP code")
    found = book.road_miles(place)
    if found is not None:
        why = f"straight line from ZIP {travel.studio_zip} to '{place}' x {travel.road_factor}; check with a route"
        assumed.append(Assumed("miles", float(found), why))
        return exactly(found), "miles"
    usual = unknown.place_not_found
    why = f"'{place}' is no ZIP code or town near the studio: {usual.low} to {usual.high} road miles one way"
    assumed.append(Assumed("miles", float(usual.likely), why))
    return usual, "miles"


def _dates(fact: Given, book: PriceBook, today: date, assumed: list[Assumed]) -> tuple[Choice[DatePrice], int | None]:
    days = [day for day in days_of(fact, "facts.event_date") if day >= today]
    if not days:
        why = "no day yet" if not fact.known else "the day is past"
        assumed.append(Assumed("event_date", None, f"{why}: priced as an ordinary day with time to spare"))
        return _fixed(DatePrice()), None
    counted = Counter(date_price(day, today, book.prices.dates) for day in days)
    likely = counted.most_common(1)[0][0]
    if len(days) > 1:
        assumed.append(Assumed("event_date", None, f"{len(days)} days are possible: all are within the range"))
    _note_inferred("event_date", fact, assumed)
    return Choice(tuple(counted), likely), (days[0] - today).days if len(days) == 1 else None


def _crew(fact: Given, book: PriceBook) -> int | None:
    if not fact.known:
        return None
    most = book.prices.crew.most
    remedy = f"give the number of installers, 1 to {most}"
    value = number(fact.value, "facts.crew", most=Decimal(most), remedy=remedy, above_zero=True)
    if value != int(value):
        raise FactWrong(f"facts.crew: {value} is no whole number: {remedy}")
    return int(value)


def _late_strike(fact: Given, book: PriceBook) -> int | None:
    """Return the row of the rules that a take-down at this time of night falls under."""
    if not fact.known:
        return None
    clock = text(fact.value, "facts.strike_time") or ""
    try:
        when = minutes_of_night(clock)
    except ValueError as problem:
        raise FactWrong(f"facts.strike_time: {problem}") from None
    rows = [i for i, row in enumerate(book.prices.late_strike) if when >= minutes_of_night(row.after)]
    return max(rows, key=lambda i: book.prices.late_strike[i].adds, default=None)


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

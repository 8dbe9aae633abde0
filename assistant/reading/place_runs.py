"""Runs of tokens that name a place: an address, a venue's name, a town, a ZIP, and all of them joined."""

from dataclasses import dataclass

from assistant.reading.context import Context
from assistant.reading.node import Node
from assistant.reading.place_words import (
    ARTICLES,
    CONNECTORS,
    is_capital,
    is_number,
    is_plain,
    is_word,
    postcode_at,
    stops,
    venue_at,
)

LONGEST_STREET = 5
MOST_PARTS = 6  # joined names of one place
LONGEST_NAME = 12  # words
LONGEST_LOWER_NAME = 5
ADDRESS, VENUE, NAME, CODE, POSTCODE = "address", "venue", "name", "code", "postcode"
_LOWER_STREET = {"st", "street", "ave", "avenue", "rd", "road", "blvd", "dr", "ln", "lane", "hwy", "pkwy"}
_NAMING = {"first", "second", "third", "all", "open"}  # "First Light Church", "All Saints Hall"
_JOINERS = {"at", "@", "on", "in", "of", "en", "near", "off"}


@dataclass(frozen=True, slots=True)
class Run:
    """Tokens ``first`` to ``last`` (excluded) that name a place, and the sorts of name in them."""

    first: int
    last: int
    sorts: frozenset[str]


def run_at(context: Context, at: int, *, led: bool) -> Run | None:
    """Return the longest name of a place from a token on; ``led`` says that "at" or a heading stands before it."""
    part = _segment(context, at, led=led, town=True)
    if part is None:
        return None
    first, last, sorts, parts = at, part[0], {part[1]}, [part]
    while True:
        step = _joined(context, last) if len(parts) < MOST_PARTS else None
        if step is None and parts[-1][1] == ADDRESS:
            step = _town_after(context, last)
        if step is None:
            bare = sorts == {NAME} and not led and not _is_a_title(context, at, parts)
            return None if bare else Run(first, last, frozenset(sorts - {NAME}) or frozenset({NAME}))
        last = step[0]
        sorts.add(step[1])
        parts.append(step)


def _after_an_aside(context: Context, last: int) -> tuple[int, str] | None:
    """Go on over "(the upstairs room)" to an address right behind it."""
    closing = next((at for at in range(last + 1, last + 7) if context.fold(at) == ")"), None)
    street = address(context, closing + 1) if closing is not None and closing + 1 < len(context.tokens) else None
    return (street, ADDRESS) if street is not None else None


def _bare_street(context: Context, at: int) -> int | None:
    """Return the end of "44 Poplar" after a venue and a comma: a house number and one or two capitals, nothing more."""
    last = at + 1
    while last - at <= 2 and is_capital(context, last) and not stops(context, last):
        last += 1
    ended = context.fold(last) in ("", ".", ",", "\n", "\n\n", "!", ")")
    return last if is_number(context, at) and last > at + 1 and ended else None


def _is_a_title(context: Context, at: int, parts: list[tuple[int, str]]) -> bool:
    """Tell whether "The Glasshouse at Fern Ridge" names a place without a word for its kind."""
    joined = len(parts) == 2 and context.fold(parts[0][0]) == "at"
    return joined and context.fold(at) == "the" and is_capital(context, at) and is_capital(context, at + 1)


def _joined(context: Context, last: int) -> tuple[int, str] | None:
    """Return what goes on after a name: ", 12 Elm St", " at The Gladwyn", " (Station Road)", ", Millport"."""
    mark = context.fold(last)
    if mark == "(":
        inner = _segment(context, last + 1, led=False, town=True)
        return (inner[0] + 1, inner[1]) if inner and context.fold(inner[0]) == ")" else _after_an_aside(context, last)
    if mark == "," and (bare := _bare_street(context, last + 1)) is not None:
        return bare, ADDRESS
    code = town_with_code(context, last + 1 if mark in _JOINERS or mark == "," else last)
    if code is not None:
        return code, CODE
    if mark in (",", "-", "@", "|", "/") or (mark == "\n" and address(context, last + 1)):
        return _segment(context, last + 1, led=False, town=mark == ",")
    if mark in _JOINERS:
        return _segment(context, last + 1, led=False, town=mark in ("in", "near", "en"), capital=True)
    if context.nodes.is_a("state", last) and context.tokens[last].text.isupper():
        return last + 1, NAME
    if (code := postcode_at(context, last)) is not None:
        return code, POSTCODE
    return (last + 1, CODE) if is_zip(context, last) else None


def _town_after(context: Context, last: int) -> tuple[int, str] | None:
    """Take one or two capitals right after a street as its town ("64 Heron Lane Westfall")."""
    at = last
    while at - last < 2 and is_capital(context, at) and not stops(context, at) and venue_at(context, at) is None:
        at += 1
    ended = context.fold(at) in ("", ",", ".", "\n", "\n\n", "!", "*", ")")
    named = not any(
        context.nodes.is_a(kind, index)
        for index in range(last, at)
        for kind in ("colour", "sign_off", "wanted", "relation")
    )
    return (at, NAME) if at > last and ended and named else None


def _segment(
    context: Context, at: int, *, led: bool, town: bool = False, capital: bool = False
) -> tuple[int, str] | None:
    if at >= len(context.tokens):
        return None
    named = _name(context, at, led=led)
    street = address(context, at)
    if street is not None:  # "Rose Hill Community Center" is no street, though "Rose Hill" could be one
        return named if named and named[1] == VENUE and named[0] > street else (street, ADDRESS)
    if (last := postcode_at(context, at)) is not None:
        return last, POSTCODE
    if is_zip(context, at):
        return at + 1, CODE
    if led and (code := town_with_code(context, at)) is not None:
        return code, CODE
    if named is not None and (named[1] == VENUE or led or town or capital):
        return named
    if town and context.nodes.is_a("state", at) and context.tokens[at].text.isupper():
        return at + 1, NAME
    return None


def town_with_code(context: Context, at: int) -> int | None:
    """Return the token after a town and its ZIP code, in capitals or small letters ("springfield 62704", "Rye, 10580").

    The code behind them says that the words are a town, whatever their letters.
    """
    last = at
    while last - at < 3 and is_word(context, last) and not (stops(context, last) or is_plain(context, last)):
        last += 1
    code = last + 1 if context.fold(last) == "," else last
    state = context.nodes.is_a("state", last - 1) and last - at > 1
    named = last > at and not any(context.nodes.is_a(kind, at) for kind in ("colour", "unit", "wanted", "where_to"))
    return code + 1 if (named or state) and code < len(context.tokens) and is_zip(context, code) else None


def is_zip(context: Context, at: int) -> bool:
    """Tell whether a token is a five-digit number that nothing else claims."""
    if not is_number(context, at) or len(context.tokens[at].text) != 5 or context.fold(at - 1) in ("$", "£", "€", "#"):
        return False
    return not any(context.nodes.is_a(kind, at + 1) for kind in ("balloon", "guests", "unit", "currency"))


def address(context: Context, at: int) -> int | None:
    """Return the token after "900 Dover St", "Castle Street", "on 5th st" or "Calle Juarez 200"."""
    street_first = _street_first(context, at)
    if street_first is not None:
        return street_first
    numbered = is_number(context, at) and not context.nodes.beginning("length", at)
    start = at + 1 if numbered and not context.nodes.is_a("ordinal_ending", at + 1) else at
    last = _street_end(context, start, numbered=numbered and start > at)
    return None if last is None else _with_unit(context, last)


def _street_end(context: Context, start: int, *, numbered: bool) -> int | None:
    at = start
    while at < len(context.tokens) and at - start <= LONGEST_STREET:
        street = max(context.nodes.beginning("street", at), key=lambda node: node.length, default=None)
        nth = context.nodes.is_a("ordinal_ending", at) and context.tokens[at - 1].end == context.tokens[at].start
        if street is not None and at > start and not nth and _is_street(context, start, at, numbered=numbered):
            return street.last
        ordinal = is_number(context, at) and context.nodes.is_a("ordinal_ending", at + 1)
        initial = context.fold(at) == "." and len(context.fold(at - 1)) <= 2
        if not (ordinal or initial or context.nodes.is_a("ordinal_ending", at)) and not _can_be_street(
            context, at, numbered
        ):
            return None
        at += 1
    return None


def _can_be_street(context: Context, at: int, numbered: bool) -> bool:
    if not is_word(context, at) or (stops(context, at) and not is_capital(context, at)):
        return False
    if any(
        context.nodes.is_a(kind, at) for kind in ("guests", "unit", "piece", "where_to", "wanted")
    ) and not is_capital(context, at):
        return False
    return numbered or is_capital(context, at) or context.nodes.is_a("ordinal_word", at) or not is_plain(context, at)


def _is_street(context: Context, start: int, at: int, *, numbered: bool) -> bool:
    """Without a house number a street needs a capital or a sure ending ("on 5th st")."""
    if numbered or is_capital(context, start):
        return numbered or is_capital(context, at)
    led = context.fold(start - 1) in ("on", "off", "along", "@", "at", "en")
    return led and context.fold(at) in _LOWER_STREET and at - start <= 3


def _street_first(context: Context, at: int) -> int | None:
    street = max(context.nodes.beginning("street_first", at), key=lambda node: node.length, default=None)
    if street is None:
        return None
    last = street.last + (1 if context.fold(street.last) == "." else 0)
    first = last
    while (
        last < len(context.tokens)
        and last - first < 4
        and is_word(context, last)
        and (is_capital(context, last) or not stops(context, last))
    ):
        last += 1
    last += 1 if context.fold(last) == "#" else 0
    return last + 1 if last > first and is_number(context, last) else None


def _with_unit(context: Context, last: int) -> int:
    """Take "Suite 200", "apt 4", "# 12" or a highway's number along."""
    at = last + 1 if context.fold(last) in (",", ".") and context.nodes.is_a("unit_of_address", last + 1) else last
    numbered_road = context.fold(last - 1) in ("road", "rd", "route", "highway", "hwy") and is_number(context, last)
    if numbered_road and len(context.fold(last)) <= 3 and context.fold(last + 1) in ("", ",", ".", "\n", "\n\n", ")"):
        return last + 1
    unit = context.nodes.beginning("unit_of_address", at)
    if unit and (is_number(context, unit[0].last) or len(context.fold(unit[0].last)) == 1):
        return unit[0].last + 1
    return last


def _name(context: Context, at: int, *, led: bool) -> tuple[int, str] | None:
    """Return the end of a venue's or town's name and which of the two it is."""
    first = at + 1 if context.fold(at) in ARTICLES else at
    last, named, venue = first, False, False
    while last < len(context.tokens) and last - at < LONGEST_NAME:
        node = venue_at(context, last)
        kind_first = context.nodes.is_a("kind_first", last) and not named
        sure = kind_first and context.nodes.is_a("sure_kind_first", last)
        if node is not None and (is_capital(context, last) or named or led or sure):
            named = named or _is_called_so(context, first, at, node)
            last, venue = node.last, True
            if kind_first:
                named, last = _name_after_kind(context, last, named)
        elif _goes_on(context, first, last, led=led):
            named = named or (
                is_word(context, last) and not is_plain(context, last) and context.fold(last) not in CONNECTORS
            )
            last += 1
        else:
            break
    last = _without_tail(context, first, last)
    return (last, VENUE if venue else NAME) if named and last > first else None


def _is_called_so(context: Context, first: int, at: int, venue: Node) -> bool:
    """Tell whether a kind of venue is itself the name: "The Boathouse", "the Assembly Rooms"."""
    if (
        is_capital(context, venue.first) >= is_capital(context, venue.last)
        and venue_at(context, venue.last) is not None
    ):
        return venue.first == first  # two kinds make a name: "Riverside Hall"
    capital = all(is_capital(context, index) for index in range(venue.first, venue.last))
    if is_capital(context, venue.first) and is_number(context, venue.last) and venue.first == first:
        return True  # "Pier 7"
    goes_on = is_capital(context, venue.last + 1) or is_number(context, venue.last + 1)
    follows = context.fold(venue.last) in (",", "at", "on") and goes_on
    if follows and is_capital(context, venue.first) and is_number(context, venue.last + 1) and venue.first == first:
        return True
    return capital and first > at and venue.first == first and (venue.length > 1 or follows or not _opens(context, at))


def _opens(context: Context, at: int) -> bool:
    return at == context.sentence(at)[0] or not is_capital(context, at)


def _goes_on(context: Context, first: int, at: int, *, led: bool) -> bool:
    if postcode_at(context, at) is not None:
        return False
    if is_capital(context, at):
        if context.nodes.is_a("stop_word", at) and is_capital(context, at + 1) and (led or context.fold(at) in _NAMING):
            return True
        return not stops(context, at) or (venue_at(context, at + 1) is not None and is_capital(context, at + 1))
    fold = context.fold(at)
    ahead = at + 2 if context.fold(at + 1) in ("the", "la", "las", "los") else at + 1
    if fold in CONNECTORS and at > first and is_capital(context, ahead) and not stops(context, ahead):
        return fold not in ("at", "on", "in", "for")
    if fold == "." and len(context.fold(at - 1)) <= 3 and at > first and is_capital(context, at + 1):
        return context.tokens[at - 1].end == context.tokens[at].start and context.fold(at - 1) in (
            "st",
            "mt",
            "ft",
            "dr",
        )
    if is_number(context, at) and at > first and _is_numbered(context, at):
        return True
    if is_number(context, at) and at > first:
        return is_capital(context, at - 1) and context.fold(at + 1) in ("", ",", ".", "\n", "\n\n", ")") and not led
    return _lower_name(context, first, at, led=led)


def _is_numbered(context: Context, at: int) -> bool:
    """Tell whether a number belongs to the place before it ("pavilion 3", "Legion Post 88")."""
    numbered = venue_at(context, at - 1) is not None or context.fold(at - 1) in (
        "post",
        "pier",
        "lot",
        "dock",
        "gate",
        "unit",
    )
    ended = context.fold(at + 1) in ("", ",", ".", "\n", "\n\n", ")", "in", "at", "on", "!", "*")
    return numbered and ended and len(context.fold(at)) <= 3


def _lower_name(context: Context, first: int, at: int, *, led: bool) -> bool:
    """Tell whether a small word leads to a kind of venue within reach ("the oakmere branch library")."""
    if not is_word(context, at) or stops(context, at) or at - first >= LONGEST_LOWER_NAME:
        return False
    if not led and not (at > first and is_capital(context, at - 1)):
        return False
    if context.nodes.is_a("where_to", at) or context.nodes.is_a("home", at):
        return False
    for ahead in range(at + 1, first + LONGEST_LOWER_NAME + 1):
        if ahead >= len(context.tokens) or not is_word(context, ahead) or stops(context, ahead):
            return False
        if venue_at(context, ahead) is not None:
            return True
    return False


def _name_after_kind(context: Context, at: int, named: bool) -> tuple[bool, int]:
    """Take the name after its kind: "salon primavera", "Salón Las Palomas"."""
    last = at
    while last - at < 3 and is_word(context, last) and not stops(context, last):
        if context.nodes.is_a("where_to", last) or any(
            context.nodes.is_a(k, last) for k in ("number_word", "colour_label")
        ):
            break
        last += 1
    while last > at and context.fold(last - 1) in CONNECTORS:
        last -= 1
    plain = (is_plain(context, n) or venue_at(context, n) or context.fold(n) in CONNECTORS for n in range(at, last))
    fresh = not all(plain)
    return (True, last) if fresh else (named, at)


def _without_tail(context: Context, first: int, last: int) -> int:
    while last > first and (context.fold(last - 1) in CONNECTORS or context.fold(last - 1) in (".", "'")):
        last -= 1
    return last

"""Running length from where a garland goes: a table, a door, a garage door, a flight of stairs."""

from decimal import Decimal

from assistant.pricing import geometry
from assistant.pricing.measures import Said, Size, in_feet, short, shown_feet, times
from assistant.pricing.recipes import RUNNING, Outlines, Piece, Spot, Stairs, Way
from assistant.pricing.unknowns import Between, exactly

ONE = Decimal(1)
ALONG, SWAGGED = "along", "swagged"


def size_at_spot(said: Said, piece: Piece, outlines: Outlines) -> Size:
    """Return the size of a piece that goes round a spot; a named length is the running length itself.

    Raises ValueError for a spot or a way that the rules do not hold, and for a piece that does not run.
    """
    word = str(said.spot)
    if piece.outline not in RUNNING:
        raise ValueError(f"at '{word}' says nothing of how large {piece.label} is: leave 'at' out and give its feet")
    on_stairs = word == "stairs" or word in outlines.stairs.also
    spot = outlines.spot(word)
    if not on_stairs and spot is None:
        raise ValueError(f"at '{word}' is not known: known are {', '.join(outlines.spot_words())}; or give feet")
    if said.length is not None:
        return Size(said.length, said.height, mount=outlines.stairs.mount if on_stairs else None)
    return _round(said, word, spot) if spot is not None else _up_the_stairs(said, outlines.stairs)


def _round(said: Said, word: str, spot: Spot) -> Size:
    width, height = said.width or spot.width_ft, said.height or spot.height_ft
    ways = [(name, _along(way, width, height)) for name, way in _ways(said.way, word, spot)]
    usual = dict(ways).get(spot.usual, ways[0][1])
    feet = Between(min(f.low for _, f in ways), usual.likely, max(f.high for _, f in ways))
    lengths = "; ".join(f"{spot.ways[name].words} {shown_feet(way_feet)}" for name, way_feet in ways)
    measures = f"{shown_feet(width)} wide" + (f", {shown_feet(height)} high" if height.high else "")
    taken = "" if said.width else "taken as "
    return Size(feet, said.height, (f"{word} {taken}{measures}: {lengths}",))


def _ways(named: str | None, word: str, spot: Spot) -> list[tuple[str, Way]]:
    if named is None:
        return list(spot.ways.items())
    if named not in spot.ways:
        raise ValueError(f"way '{named}' is not known at a {word}: known are {', '.join(spot.ways)}; or leave it out")
    return [(named, spot.ways[named])]


def _along(way: Way, width: Between, height: Between) -> Between:
    across, up = times(width, exactly(way.across)), times(height, exactly(way.ups))
    return Between(
        across.low + up.low + way.adds.low,
        across.likely + up.likely + way.adds.likely,
        across.high + up.high + way.adds.high,
    )


def _up_the_stairs(said: Said, stairs: Stairs) -> Size:
    """Along the handrail; hung in swags it is longer. A landing adds its own length."""
    if said.way not in (None, ALONG, SWAGGED):
        raise ValueError(f"way '{said.way}' is not known on stairs: known are {ALONG}, {SWAGGED}; or leave it out")
    steps = said.steps or exactly(Decimal(stairs.steps))
    each = in_feet(geometry.stairs(1, float(stairs.rise_inches), float(stairs.run_inches)))
    straight = times(steps, exactly(each))
    landing = said.landing or exactly(Decimal(0))
    shortest = stairs.swagged if said.way == SWAGGED else ONE
    longest = ONE if said.way == ALONG else stairs.swagged
    feet = Between(
        straight.low * shortest + landing.low,
        straight.likely * shortest + landing.likely,
        straight.high * longest + landing.high,
    )
    taken = "" if said.steps else "taken as "
    words = f"stairs {taken}{short(steps.likely)} steps of {stairs.rise_inches} in rise and {stairs.run_inches} in run"
    how = "; up to a tenth more if swagged" if said.way is None else f", {said.way}"
    return Size(feet, said.height, (f"{words}: {shown_feet(feet)} along the handrail{how}",), stairs.mount)

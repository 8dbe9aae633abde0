"""From what was said of a piece to its measure (running feet, or a column's height), with every assumption in words."""

from collections.abc import Callable
from decimal import Decimal

from assistant.pricing import geometry
from assistant.pricing.measures import Said, Size, in_feet, short, shown_feet, times
from assistant.pricing.recipes import Outlines, Piece
from assistant.pricing.spots import size_at_spot
from assistant.pricing.unknowns import Between, exactly

Outline = Callable[[Said, Piece, Outlines], Size]


def size_of(said: Said, piece: Piece, outlines: Outlines) -> Size:
    """Return the size of a piece.

    Raises ValueError for a size word or a spot that the rules do not hold.
    """
    if said.size is not None and said.length is None:
        return _named(said, piece)
    if said.spot is not None:
        return size_at_spot(said, piece, outlines)
    return OUTLINES[piece.outline](said, piece, outlines)


def _named(said: Said, piece: Piece) -> Size:
    if said.size not in piece.named_sizes:
        known = ", ".join(piece.named_sizes) or "none"
        raise ValueError(f"size '{said.size}' is not known for {piece.label}: known are {known}; or give feet")
    feet = piece.named_sizes[said.size]
    height = said.height or (piece.unknown_size.get("height_ft") if piece.outline == "each" else None)
    unit = "balloons" if piece.outline == "each" else "ft"
    return Size(exactly(feet), height, (f"'{said.size}' is taken as {feet} {unit}",))


def _run(said: Said, piece: Piece, outlines: Outlines) -> Size:
    if said.length is not None:
        return Size(said.length, said.height)
    if said.width is not None and said.height is not None:
        return _round_a_frame(said.width, said.height, outlines)
    if said.width is not None:
        why = "the width alone is known: along its front, or longer behind and above it"
        return Size(times(said.width, outlines.run_by_width), None, (why,))
    if said.height is not None:
        why = "the height alone is known: up one side, or up and across"
        return Size(times(said.height, outlines.run_by_height), said.height, (why,))
    feet = piece.unknown_size["length_ft"]
    return Size(feet, None, (f"no size yet: {feet.low} to {feet.high} ft, likely {feet.likely}",))


def _round_a_frame(width: Between, height: Between, outlines: Outlines) -> Size:
    """A garland on a frame covers one side at least, an L likely, three sides at most."""
    radius = float(outlines.corner_radius_ft)
    low = min(width.low, height.low)
    likely = in_feet(geometry.half_arch(float(height.likely), float(width.likely), radius))
    high = in_feet(geometry.square_frame(float(width.high), float(height.high)))
    ends = f"one side ({short(low)} ft), likely an L ({short(likely)} ft), up to three sides ({short(high)} ft)"
    why = f"width and height are the frame's: {ends}"
    return Size(Between(low, max(low, likely), max(high, likely)), height, (why,))


def _curve(length: Callable[[float, float, Outlines], float], words: str) -> Outline:
    """Return an outline that spans a width and rises to a height; a named length is the running length itself."""

    def outline(said: Said, piece: Piece, outlines: Outlines) -> Size:
        if said.length is not None:
            return Size(said.length, said.height)
        width, height, why = _both(said, piece)
        feet = _over(lambda across, up: length(across, up, outlines), width, height)
        return Size(feet, height, (*why, f"{words}: {shown_feet(feet)} along it"))

    return outline


def _swag(said: Said, piece: Piece, outlines: Outlines) -> Size:
    """A run hung between two points; without its depth a share of the span is taken."""
    if said.length is not None:
        return Size(said.length, said.height)
    span = said.width or piece.unknown_size["width_ft"]
    why = () if said.width else (f"no width yet: {_of(span)} ft between its two points",)
    sag = said.sag or times(span, outlines.sag_share)
    if sag.high * 2 > span.low:
        raise ValueError(f"sag_ft: {sag.high} is more than half of the width {span.low}: give the length along it")
    feet = _over(geometry.swag, span, sag)
    words = f"hung between two points, {shown_feet(sag)} deep in the middle: {shown_feet(feet)} along it"
    return Size(feet, said.height, (*why, words))


def _hoop(said: Said, piece: Piece, outlines: Outlines) -> Size:
    if said.length is not None:
        return Size(said.length, said.height)
    across = said.width or said.height
    why = () if across else ("no diameter yet: a usual stand is assumed",)
    diameter = across or piece.unknown_size["width_ft"]
    feet = _over(geometry.hoop, diameter, said.share or outlines.hoop_share)
    return Size(feet, diameter, (*why, f"the garland covers part of the ring: {shown_feet(feet)}"))


def _area(said: Said, piece: Piece, _: Outlines) -> Size:
    width, height, why = _both(said, piece)
    return Size(_over(lambda w, h: w * h, width, height), height, why)


def _cover(said: Said, piece: Piece, outlines: Outlines) -> Size:
    """A ceiling's floor area, of which a share is covered; its sides are whichever two measures were said."""
    sides = [side for side in (said.width, said.length, said.height) if side is not None][:2]
    if len(sides) < 2:
        area = piece.unknown_size["area_sq_ft"]
        why = f"no floor area yet: {area.low} to {area.high} sq ft, likely {area.likely}"
    else:
        area, why = _over(lambda w, h: w * h, *sides), "the floor's width and length"
    share = said.share or outlines.ceiling_share
    covered = f"{share.low:.0%} to {share.high:.0%} of it covered" if share.open else f"{share.likely:.0%} covered"
    return Size(times(area, share), None, (f"{why}, {covered}",))


def _each(said: Said, piece: Piece, _: Outlines) -> Size:
    usual = piece.unknown_size.get("units", exactly(Decimal(1)))
    units, height = said.balloons or usual, said.height or piece.unknown_size.get("height_ft")
    return Size(units, height, (f"not said how large: {_of(usual)}",) if units.open and not said.balloons else ())


def _height(said: Said, piece: Piece, _: Outlines) -> Size:
    height = said.height or said.length
    if height is not None:
        return Size(height, height)
    usual = piece.unknown_size["height_ft"]
    return Size(usual, usual, (f"no height yet: {usual.low} to {usual.high} ft, likely {usual.likely}",))


def _both(said: Said, piece: Piece) -> tuple[Between, Between, tuple[str, ...]]:
    why = []
    for name, value in (("width", said.width), ("height", said.height)):
        if value is None:
            usual = piece.unknown_size[f"{name}_ft"]
            why.append(f"no {name} yet: {usual.low} to {usual.high} ft, likely {usual.likely}")
    width = said.width or piece.unknown_size["width_ft"]
    height = said.height or piece.unknown_size["height_ft"]
    return width, height, tuple(why)


def _over(length: Callable[[float, float], float], first: Between, second: Between) -> Between:
    """Ends of a length that grows with both measures."""
    low, likely, high = (
        in_feet(length(float(a), float(b)))
        for a, b in ((first.low, second.low), (first.likely, second.likely), (first.high, second.high))
    )
    return Between(low, likely, high)


def _of(usual: Between) -> str:
    return f"{usual.low} to {usual.high}, likely {usual.likely}"


OUTLINES: dict[str, Outline] = {
    "run": _run,
    "swag": _swag,
    "arch": _curve(lambda w, h, _: geometry.half_ellipse(w, h), "both feet on the floor, half an ellipse"),
    "frame_arch": _curve(lambda w, h, _: geometry.legs_and_half_circle(w, h), "straight legs and a half circle"),
    "square_frame": _curve(lambda w, h, _: geometry.square_frame(w, h), "three sides of a frame"),
    "half_arch": _curve(
        lambda w, h, rules: geometry.half_arch(h, w, float(rules.corner_radius_ft)),
        "up one side and across the top, the corner rounded",
    ),
    "hoop": _hoop,
    "height": _height,
    "area": _area,
    "cover": _cover,
    "each": _each,
}

"""What goes with a price in words: cautions for the client, and notes for the designer alone."""

from decimal import Decimal

from assistant.pricing.book import PriceBook
from assistant.pricing.engine import Priced
from assistant.pricing.measures import short


def cautions(priced: Priced, book: PriceBook) -> list[str]:
    """Return the cautions of a job in plain words, each ending with who decides."""
    ending = book.cautions.who_decides
    return [f"{book.cautions.cautions[name].text} {ending}" for name in _names(priced, book)]


def _names(priced: Priced, book: PriceBook) -> list[str]:
    job, rules = priced.job, book.prices
    names = [name for reading in (job, *priced.others) for piece in reading.pieces for name in piece.piece.cautions]
    if {"outdoor", "covered"} & set(job.setting.options):
        names.append("wind")
    heights = [height for height in priced.high.at.heights if height is not None]
    if any(height > rules.crew.ladder_above_ft for height in heights):
        names.append("ladder")
    if job.days_off is not None and job.days_off * 24 < rules.dates.designer_alone_under_hours:
        names.append("soon")
    if job.miles.high > rules.travel.designer_beyond_miles:
        names.append("far")
    if False in job.strike.options and any(piece.work.comes_back for piece in job.pieces):
        names.append("returns")
    return list(dict.fromkeys(names))


def notes(priced: Priced, book: PriceBook, shown: tuple[int, int, int]) -> list[str]:
    """Return what the designer should look at before approving."""
    found = []
    if priced.likely.raised:
        where = book.where("prices.yaml", "minimum_order")
        found.append(f"Raised to the minimum order of {book.prices.minimum_order} ({where}).")
    if priced.narrowing and _is_wide(shown, book):
        found.append("The range is wide: ask the first fact of the narrowing before showing it.")
    if priced.job.budget is not None and priced.job.budget.high < priced.floor:
        found.append(
            f"The budget of {priced.job.budget.high} is below the floor of {priced.floor:.2f}: offer less length, "
            "density or finish and say what changes."
        )
    found += _time_and_size(priced, book)
    line = _sanity(priced, book)
    return [*found, line] if line else found


def _time_and_size(priced: Priced, book: PriceBook) -> list[str]:
    """Compare the hours of installing with the window, and what is picked up with what goes into a car."""
    job, at, found = priced.job, priced.likely.at, []
    installing = priced.likely.costing.hours["install"] * 60 / (priced.likely.costing.helpers + 1)
    if job.window_minutes is not None and installing > job.window_minutes:
        found.append(
            f"Installing takes about {installing:.0f} min, the window is {job.window_minutes:.0f} min: bring more "
            "people, build more beforehand, make it smaller or ask for earlier access."
        )
    longest = book.prices.pick_up.longest_ft
    if job.pick_up and any(p.runs and feet > longest for p, feet in zip(job.pieces, at.units, strict=True)):
        found.append(f"Picked up and longer than {longest} ft: ask what car comes, or build it in sections.")
    return found


def _is_wide(shown: tuple[int, int, int], book: PriceBook) -> bool:
    low, _, high = shown
    return 2 * (high - low) > book.prices.rounding.wide_over * (high + low)


def _sanity(priced: Priced, book: PriceBook) -> str | None:
    """Compare one plain garland indoors with the straight line of the rules."""
    job, at, rules = priced.job, priced.likely.at, book.prices.sanity
    plain = at.mirror == at.doubled == 0 and at.setting == "indoor" and not at.strike
    near = at.miles <= book.prices.travel.designer_beyond_miles
    if len(job.pieces) != 1 or job.pieces[0].piece.work != "organic" or not (plain and near) or at.date.peak_row >= 0:
        return None
    units = at.units[0] * at.counts[0]
    usual = rules.fixed + rules.per_ft * units
    if abs(priced.likely.base - usual) <= rules.within * usual:
        return None
    off = (priced.likely.base / usual - 1) * Decimal(100)
    return (
        f"{off:+.0f} % from the usual {usual:.0f} for {short(units)} ft plain indoors: check the facts and the prices."
    )

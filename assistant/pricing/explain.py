"""The tree behind a figure, in plain text: price, shares taken off it, lines, entries, each with its rule's place."""

from collections.abc import Iterator

from assistant.pricing.engine import PEAK, RUSH, Case
from assistant.pricing.quote import LABELS, Quote, piece_label


def explain(quote: Quote) -> str:
    """Return the tree of the likely price, then the ends' figures, what is open and what was assumed."""
    return "\n".join([*_price(quote), *_range(quote), *_assumed(quote)])


def _price(quote: Quote) -> Iterator[str]:
    case, book = quote.priced.likely, quote.book
    shares = book.prices.shares
    where = book.where("prices.yaml", "shares")
    yield f"likely {case.price:.2f}, shown as {quote.shown[1] / 100:.2f} (price book {book.version})"
    if case.raised:
        yield f"  minimum order {book.prices.minimum_order}  [{book.where('prices.yaml', 'minimum_order')}]"
    if case.peak:
        row = book.where("prices.yaml", "dates", "peaks", case.at.date.peak_row)
        yield f"  {LABELS[PEAK]} {case.peak:.2f} = {case.at.date.peak:.0%}  [{row}; event_date]"
    if case.rush:
        row = book.where("prices.yaml", "dates", "rush", case.at.date.rush_row)
        yield f"  {LABELS[RUSH]} {case.rush:.2f}  [{row}; event_date]"
    if case.discount:
        row = book.where("prices.yaml", "discounts", str(quote.priced.job.discount))
        yield f"  discount -{case.discount:.2f}, out of the profit  [{row}; discount]"
    full = case.base + case.discount
    yield (
        f"  {full:.2f} = (direct cost {case.costing.direct:.2f} + {shares.card_fee_fixed}) / (1 - overhead "
        f"{shares.overhead} - card fee {shares.card_fee} - profit {shares.profit})  [{where}]"
    )
    yield from _lines(quote, case)


def _lines(quote: Quote, case: Case) -> Iterator[str]:
    pieces = {f"piece {i}": piece_label(piece) for i, piece in enumerate(quote.priced.job.pieces)}
    for key, label in {**pieces, **LABELS}.items():
        entries = [entry for entry in case.costing.entries if entry.line == key]
        if not entries:
            continue
        yield f"    {label}: {sum(entry.amount for entry in entries):.2f}"
        for entry in entries:
            where = ", ".join(quote.book.where(file, *key) for file, key in entry.rules)
            yield f"      {entry.amount:8.2f}  {entry.words}  [{where}; {', '.join(entry.facts)}]"


def _range(quote: Quote) -> Iterator[str]:
    low, likely, high = quote.exact
    yield f"range {low / 100:.2f} - {likely / 100:.2f} - {high / 100:.2f}, floor {quote.floor / 100:.2f}"
    for row in quote.priced.narrowing:
        yield f"  open: {row.fact}; the range is {row.width_now:.2f} wide, {row.width_if_known:.2f} once it is known"


def _assumed(quote: Quote) -> Iterator[str]:
    for assumed in quote.priced.job.assumed:
        yield f"  assumed: {assumed.fact} = {assumed.value} ({assumed.why})"

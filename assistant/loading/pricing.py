"""Builds the price book from its four rule files, and checks what no single file can know."""

from collections.abc import Iterator

from assistant.loading.places import road_miles_from
from assistant.pricing.book import Cautions, PriceBook
from assistant.pricing.gas_rules import GasRules
from assistant.pricing.rates import Prices
from assistant.pricing.recipes import Pieces
from assistant.rulebook import Rulebook, RuleFilesWrong, RuleProblem

PRICES, PIECES, CAUTIONS, GAS = FILES = ("prices.yaml", "pieces.yaml", "cautions.yaml", "gas.yaml")


def load_price_book(book: Rulebook) -> PriceBook:
    """Return the price book; raises RuleFilesWrong naming every fault by file, line, key and remedy."""
    prices = book.load(PRICES, Prices)
    pieces = book.load(PIECES, Pieces)
    cautions = book.load(CAUTIONS, Cautions)
    gas = book.load(GAS, GasRules)
    faults = [
        *_sizes(book, prices, pieces),
        *_cautions(book, pieces, cautions),
        *_unknown_piece(book, prices, pieces),
        *_fills(book, pieces, gas),
    ]
    if faults:
        raise RuleFilesWrong(faults)
    return PriceBook(
        prices=prices,
        pieces=pieces,
        cautions=cautions,
        gas=gas,
        version=book.version(*FILES),
        lines={name: book.source(name).lines for name in FILES},
        road_miles=road_miles_from(
            prices.travel.studio_zip, prices.travel.road_factor, prices.travel.designer_beyond_miles
        ),
    )


def _sizes(book: Rulebook, prices: Prices, pieces: Pieces) -> Iterator[RuleProblem]:
    for name, work in pieces.work.items():
        for density, build in work.builds.items():
            for size in build.balloons:
                if size not in prices.balloons:
                    path = ("work", name, "builds", density, "balloons", size)
                    known = ", ".join(prices.balloons)
                    yield _fault(book, PIECES, path, f"size '{size}' has no price",
                                 f"add it to balloons of {PRICES}, which holds {known}")  # fmt: skip


def _cautions(book: Rulebook, pieces: Pieces, cautions: Cautions) -> Iterator[RuleProblem]:
    for kind, piece in pieces.pieces.items():
        for i, name in enumerate(piece.cautions):
            if name not in cautions.cautions:
                yield _fault(book, PIECES, ("pieces", kind, "cautions", i), f"the caution '{name}' is not known",
                             f"add it to {CAUTIONS} or name one of {', '.join(cautions.cautions)}")  # fmt: skip


def _fills(book: Rulebook, pieces: Pieces, gas: GasRules) -> Iterator[RuleProblem]:
    for name, work in pieces.work.items():
        for density, build in work.builds.items():
            path = ("work", name, "builds", density)
            unknown = [fill for fill in build.floats if fill not in gas.fills]
            if unknown:
                yield _fault(book, PIECES, (*path, "floats", unknown[0]), f"'{unknown[0]}' is not on the chart",
                             f"add it to fills of {GAS} or name one of {', '.join(gas.fills)}")  # fmt: skip
            elif build.helium_cubic_ft != gas.cubic_ft(build):
                yield _fault(book, PIECES, (*path, "helium_cubic_ft"), "the gas is not what floats takes by the chart",
                             f"write {gas.cubic_ft(build)}, or mend floats or fills of {GAS}")  # fmt: skip


def _unknown_piece(book: Rulebook, prices: Prices, pieces: Pieces) -> Iterator[RuleProblem]:
    if prices.unknown.piece not in pieces.pieces:
        yield _fault(book, PRICES, ("unknown", "piece"), f"'{prices.unknown.piece}' is no piece of {PIECES}",
                     f"name one of {', '.join(pieces.pieces)}")  # fmt: skip


def _fault(book: Rulebook, file: str, path: tuple[str | int, ...], what: str, remedy: str) -> RuleProblem:
    return RuleProblem(file, book.source(file).line(path), ".".join(map(str, path)), what, remedy)

"""`assistant price`: fact sheets in (JSON Lines), price ranges out."""

import argparse
import sys
from datetime import date
from pathlib import Path
from typing import Any

from assistant.jsonl import BadLine, answer_lines, open_inputs
from assistant.loading.pricing import load_price_book
from assistant.pricing import PriceBook, Quote, price
from assistant.rulebook import Rulebook


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the command's options."""
    parser.add_argument("files", nargs="*", help="files of JSON Lines; standard input when none is named")
    parser.add_argument("--rules", type=Path, metavar="DIR", help="a rule folder that wins over the shipped rules")
    parser.add_argument("--explain", action="store_true", help="print the tree behind each price to standard error")


def run(args: argparse.Namespace) -> int:
    """Answer each line; exit status 1 when a line could not be answered."""
    book = load_price_book(Rulebook(*([args.rules] if args.rules else [])))

    def answer(request: dict[str, Any]) -> dict[str, Any]:
        quote = _price(request, book)
        if args.explain:
            _print_tree(request.get("id"), quote)
        return {"id": request.get("id"), **quote.to_json()}

    return answer_lines(open_inputs(args.files), answer, sys.stdout)


def _price(request: dict[str, Any], book: PriceBook) -> Quote:
    try:
        today = date.fromisoformat(request["today"])
    except (KeyError, TypeError, ValueError):
        raise BadLine("today: not a day: write it like 2027-03-01") from None
    if not isinstance(request.get("facts"), dict):
        raise BadLine('facts: missing: write {"pieces": [...], ...}')
    return price(request["facts"], book, today=today)


def _print_tree(ident: Any, quote: Quote) -> None:
    from assistant.pricing.explain import explain

    print(f"{ident}: {explain(quote)}", file=sys.stderr)

"""The command line: finds the command's module, loads it alone, and turns any known fault into one plain line."""

import argparse
import importlib
import os
import sys
from collections.abc import Sequence

COMMANDS = {
    "demo": "play an invented studio's day through the real doors, then open the desk",
    "read": "messages in (JSON Lines), facts out",
    "price": "facts in (JSON Lines), price range out",
    "dates": "day and bookings in (JSON Lines), verdict out",
    "rules": "check the rule files and say what is wrong, with file, line and remedy",
    "setup": "make a studio folder and a one-use link for the designer's first login",
    "serve": "run the desk, the doors and the sender",
    "check": "check the settings of a studio folder",
}


class CommandError(Exception):
    """A fault the person at the command line can mend; printed as one line, exit status 2."""


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit status."""
    args = list(sys.argv[1:] if argv is None else argv)
    if not args or args[0] in ("-h", "--help", "help"):
        print(_overview())
        return 0
    name = args.pop(0)
    if name not in COMMANDS:
        print(f"assistant: no command '{name}'. Known: {', '.join(COMMANDS)}", file=sys.stderr)
        return 2
    module = importlib.import_module(f"assistant.commands.{name}")
    parser = argparse.ArgumentParser(prog=f"assistant {name}", description=COMMANDS[name])
    module.arguments(parser)
    try:
        return int(module.run(parser.parse_args(args)))
    except (CommandError, OSError, ValueError) as problem:
        print(f"assistant {name}: {problem}", file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        return 130
    except Exception as fault:
        if os.environ.get("FAULT_TRACE"):
            raise
        kind = type(fault).__name__
        print(
            f"assistant {name}: an unforeseen {kind}; FAULT_TRACE=1 shows where, please report it", file=sys.stderr
        )
        return 3


def _overview() -> str:
    rows = "\n".join(f"  {name:<7} {text}" for name, text in COMMANDS.items())
    return f"assistant COMMAND [options]\n\n{rows}\n\nassistant COMMAND --help tells a command's options."

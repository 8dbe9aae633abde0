"""Lets ``python -m assistant`` do what ``assistant`` does."""

import sys

from assistant.cli import main

sys.exit(main())

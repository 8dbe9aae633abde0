"""The designer's pages: what needs her, one inquiry, dates, pasting in, and the login before them."""

from assistant.desk.app import init_desk
from assistant.desk.setup_links import make_setup_link, setup_path

__all__ = ["init_desk", "make_setup_link", "setup_path"]

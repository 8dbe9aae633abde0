"""The Flask factory: doors and desk on one app, with limits, headers and error pages that keep their promises."""

from flask import Flask

from assistant.runtime import Runtime


def create_app(runtime: Runtime) -> Flask:
    """Return the web app of one process; nothing is opened by importing this module."""
    app = Flask("assistant", static_folder=None)
    app.config["MAX_CONTENT_LENGTH"] = 12 * 1024 * 1024
    app.extensions["runtime"] = runtime
    from assistant.desk import init_desk
    from assistant.doors.web import init_doors

    init_doors(app, runtime)
    init_desk(app, runtime)
    return app

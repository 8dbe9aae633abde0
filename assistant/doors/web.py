"""The doors' web addresses: POST /doors/sms, /doors/sms/status and /doors/mail.

What is answered with success is stored; 503 means "bring it again"; a forged call gets 403 and leaves no trace.
"""

import logging
from collections.abc import Callable
from dataclasses import replace

from flask import Blueprint, Flask, Response, request
from sqlalchemy.exc import SQLAlchemyError
from werkzeug.exceptions import RequestEntityTooLarge
from werkzeug.middleware.proxy_fix import ProxyFix

from assistant.doors import hook
from assistant.doors.inbound import Inbound
from assistant.doors.keep import keep_raw, own_mail_id
from assistant.doors.mail import MailRules, Unreadable, read_mail
from assistant.doors.sms import FieldMissing, is_signed, read_sms, status_of
from assistant.loading.mail import load_mail_rules
from assistant.runtime import Runtime
from assistant.store import StoreUnavailable
from assistant.store.delivery import outgoing_of_report, report

log = logging.getLogger(__name__)

SMS_BYTES, MAIL_BYTES = 64 * 1024, 10 * 1024 * 1024
NO_REPLY = '<?xml version="1.0" encoding="UTF-8"?><Response></Response>'


def init_doors(app: Flask, runtime: Runtime) -> None:
    """Register the doors on the app, and believe forwarded addresses from as many proxies as the settings name."""
    count = runtime.settings.trusted_proxies
    if count:
        app.wsgi_app = ProxyFix(app.wsgi_app, x_for=count, x_proto=count, x_host=count)  # type: ignore[method-assign]
    doors = Doors(runtime, load_mail_rules(runtime.rooms.book))
    blueprint = Blueprint("doors", __name__)
    blueprint.post("/doors/sms")(_plain(doors.sms, SMS_BYTES))
    blueprint.post("/doors/sms/status")(_plain(doors.sms_status, SMS_BYTES))
    blueprint.post("/doors/mail")(_plain(doors.mail, MAIL_BYTES))
    app.register_blueprint(blueprint)


class Doors:
    """Checks who calls, reads what came, and hands it to the flow."""

    def __init__(self, runtime: Runtime, mail_rules: MailRules) -> None:
        self._runtime, self._mail_rules = runtime, mail_rules

    def sms(self) -> Response:
        """Take one text message from the provider."""
        refused = self._unsigned()
        if refused:
            return refused
        inbound = read_sms(request.form, _form_bytes(), self._runtime.now())
        self._receive(inbound)
        return Response(NO_REPLY, mimetype="text/xml")

    def sms_status(self) -> Response:
        """Take the carrier's report on a text we sent."""
        refused = self._unsigned()
        if refused:
            return refused
        message_id, status, code = status_of(request.form)
        ours = request.args.get("outgoing", "")
        outgoing_id = int(ours) if ours.isascii() and ours.isdigit() and len(ours) < 10 else None
        with self._runtime.store.write() as session:
            row = outgoing_of_report(session, outgoing_id, message_id)
            if row:
                report(session, row, message_id, status, code, self._runtime.now())
        return Response(status=204)

    def mail(self) -> Response:
        """Take one raw mail (message/rfc822) from the studio's mail host."""
        secret, raw = self._runtime.settings.mail_hook_secret, request.get_data(cache=False)
        when, signature = (request.headers.get(name, "") for name in (hook.TIME_HEADER, hook.SIGNATURE_HEADER))
        now = self._runtime.now()
        if not secret:
            return _words(403, "The mail door is closed: set ASSISTANT_MAIL_HOOK_SECRET to open it.")
        if not hook.is_fresh_and_signed(secret, when, signature, raw, now.timestamp()):
            return _words(403, "The signature is missing, wrong or older than five minutes.")
        self._receive_mail(raw)
        return Response(status=204)

    def _receive_mail(self, raw: bytes) -> None:
        runtime, now = self._runtime, self._runtime.now()
        try:
            inbound = read_mail(raw, self._mail_rules, own_address=runtime.settings.mail_address, now=now)
        except Unreadable as problem:
            keep_raw(runtime.store, runtime.studio_id, channel="email", raw=raw, why=str(problem), now=now)
            return
        except Exception as problem:  # a mail that breaks the reader must not come back for ever
            log.error("a mail could not be read (%s); it is kept", type(problem).__name__)
            why = "the reader stumbled over it"
            keep_raw(runtime.store, runtime.studio_id, channel="email", raw=raw, why=why, now=now)
            return
        key = own_mail_id(runtime.store, runtime.studio_id, inbound.provider_id, raw)
        self._receive(replace(inbound, provider_id=key))

    def _receive(self, inbound: Inbound) -> None:
        """Hand it on; a message that breaks the flow is kept for the designer instead of coming back for ever."""
        runtime = self._runtime
        try:
            runtime.flow.receive(inbound)
        except StoreUnavailable:
            raise
        except Exception as problem:
            log.error("a message broke the flow (%s); it is kept", type(problem).__name__)
            raw = inbound.raw or inbound.text.encode("utf-8", "replace")
            why = "the assistant stumbled over it"
            keep_raw(
                runtime.store, runtime.studio_id, channel=inbound.channel, raw=raw, why=why, now=runtime.now()
            )

    def _unsigned(self) -> Response | None:
        """Return the refusal of a call that the provider did not sign, before anything of it is read or kept."""
        token = self._runtime.settings.twilio_auth_token
        if not token:
            return _words(403, "The SMS door is closed: set ASSISTANT_TWILIO_AUTH_TOKEN to open it.")
        if not is_signed(token, self._called_url(), request.form, request.headers.get("X-Twilio-Signature", "")):
            return _words(403, "The signature is missing or wrong.")
        return None

    def _called_url(self) -> str:
        """Return the address as the provider called it: the settings' public one, else as the request says."""
        base = self._runtime.settings.public_url or request.root_url.rstrip("/")
        query = request.query_string.decode("latin-1")
        return f"{base}{request.path}" + (f"?{query}" if query else "")


def _plain(door: Callable[[], Response], most_bytes: int) -> Callable[[], Response]:
    """Wrap a door: a size limit before anything is read, and one plain sentence for every refusal."""

    def answer() -> Response:
        request.max_content_length = most_bytes
        request.max_form_memory_size = most_bytes
        try:
            return door()
        except RequestEntityTooLarge:
            return _words(413, f"The message is larger than {most_bytes // 1024} KiB, the most this door takes.")
        except FieldMissing as problem:
            return _words(400, f"{problem}.")
        except (StoreUnavailable, SQLAlchemyError) as problem:
            log.warning("a message was not taken (%s); the sender will bring it again", type(problem).__name__)
            response = _words(503, "The message was not stored. Please bring it again in a moment.")
            response.headers["Retry-After"] = "5"
            return response

    answer.__name__ = door.__name__
    return answer


def _form_bytes() -> bytes:
    """Return the form as it can be kept; the stream itself was read by the parser."""
    from urllib.parse import urlencode

    return urlencode(list(request.form.items(multi=True)), errors="replace").encode("ascii")


def _words(status: int, text: str) -> Response:
    return Response(text + "\n", status=status, mimetype="text/plain")

"""Text messages out, by Twilio's REST API: https://www.twilio.com/docs/messaging/api/message-resource."""

import logging
from datetime import timedelta

import requests
from twilio.base.exceptions import TwilioException, TwilioRestException, TwilioServiceException
from twilio.http.http_client import TwilioHttpClient
from twilio.rest import Client
from urllib3.exceptions import NewConnectionError

from assistant.doors.transports.base import LookUp, Refused, SendProblem, TryLater, Unsure
from assistant.store.parcels import Parcel

TIMEOUT = 10.0
CLOCKS_DIFFER = timedelta(minutes=2)
_OPTED_OUT = 21610
# The library writes messages and numbers to its log.
_SILENT = logging.Logger("silent", logging.CRITICAL + 1)
_LAST_MESSAGES = 50


class Twilio:
    """Sends by one account. ``status_url`` is where it reports back; ours is told apart by ``?outgoing=ID``."""

    look_up = LookUp.LATE

    def __init__(
        self, account_sid: str, auth_token: str, *, api_base: str | None = None, status_url: str | None = None
    ) -> None:
        """``api_base`` replaces https://api.twilio.com, for a stand-in."""
        self._retry_after = 0.0
        http = TwilioHttpClient(timeout=TIMEOUT, request_hooks={"response": self._note_wait}, logger=_SILENT)
        self._session = http.session
        self._client = Client(account_sid, auth_token, http_client=http)
        if api_base:
            self._client.api.base_url = api_base
        self._status_url = status_url

    def send(self, parcel: Parcel) -> str:
        """Create the message and return its SID."""
        more = {"status_callback": f"{self._status_url}?outgoing={parcel.id}"} if self._status_url else {}
        try:
            message = self._client.messages.create(
                to=parcel.recipient, from_=parcel.sender, body=parcel.text, **more
            )
        except (TwilioRestException, TwilioServiceException) as problem:
            raise self._answered(problem) from problem
        except (requests.RequestException, TwilioException, ValueError) as problem:
            raise _unanswered(problem) from problem
        if not message.sid:
            raise Unsure("the provider's answer named no message")
        return str(message.sid)

    def find(self, parcel: Parcel) -> list[str]:
        """Return the SIDs of the same text to the same number since the last try, oldest first."""
        try:
            listed = self._client.messages.list(to=parcel.recipient, from_=parcel.sender, limit=_LAST_MESSAGES)
        except (requests.RequestException, TwilioException, ValueError) as problem:
            raise TryLater(f"the provider could not be asked ({type(problem).__name__})") from problem
        since = parcel.tried_at - CLOCKS_DIFFER
        same = [m for m in listed if m.body == parcel.text and m.date_created and m.date_created >= since]
        return [m.sid for m in reversed(same) if m.sid]

    def close(self) -> None:
        """Let the connections go."""
        self._session.close()

    def _note_wait(self, response: requests.Response, *_: object, **__: object) -> None:
        """Keep how long an answer asks us to wait, which the library's exception leaves out."""
        asked = response.headers.get("Retry-After", "")
        self._retry_after = float(asked) if asked.isascii() and asked.isdigit() else 0.0

    def _answered(self, problem: TwilioRestException | TwilioServiceException) -> SendProblem:
        """What an HTTP status means for a request that is not idempotent."""
        said = f"the provider said {problem.status}, code {problem.code}"
        if problem.status == 429:  # error 20429: never processed
            return TryLater(said, after=self._retry_after)
        if problem.status == 401:
            return TryLater(f"{said}: see the account's id and token in the settings")
        if problem.status >= 500 or problem.status < 400:
            return Unsure(said)
        return Refused(said, opted_out=problem.code == _OPTED_OUT)


def _unanswered(problem: Exception) -> SendProblem:
    """Without a connection nothing was taken; any later cut leaves it open."""
    reason = getattr(problem.args[0], "reason", None) if problem.args else None
    if isinstance(problem, requests.ConnectTimeout) or isinstance(reason, NewConnectionError):
        return TryLater("the provider could not be reached")
    return Unsure(f"the provider's answer did not come ({type(problem).__name__})")

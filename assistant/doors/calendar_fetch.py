"""Fetches a calendar from an https address: public addresses only, checked on the one the socket uses."""

import http.client
import io
import ipaddress
import socket
import ssl
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any
from urllib.parse import quote, urljoin, urlsplit

CONNECT_SECONDS, WHOLE_SECONDS = 5.0, 10.0
MOST_BYTES, MOST_REDIRECTS = 1_000_000, 3
HTTPS = 443
_GLOBAL_V6 = ipaddress.ip_network("2000::/3")
# Addresses that carry another one inside: what they lead to cannot be seen from outside.
_CARRIERS = [ipaddress.ip_network(name) for name in ("2002::/16", "2001::/32")]
_RELAYS = ipaddress.ip_network("192.88.99.0/24")


class FetchRefused(ValueError):
    """The address may not be fetched, or did not give a calendar within the limits; says why and what to do."""


def is_public(address: str) -> bool:
    """Tell whether an IP address is one of the open internet; RFC 6890 lists those that are not."""
    ip = ipaddress.ip_address(address.split("%")[0])
    if isinstance(ip, ipaddress.IPv6Address):
        if ip.ipv4_mapped:
            return is_public(str(ip.ipv4_mapped))
        if ip not in _GLOBAL_V6 or any(ip in net for net in _CARRIERS):
            return False
    elif ip in _RELAYS or ip.is_reserved:
        return False
    return ip.is_global and not ip.is_multicast


def resolve(host: str) -> list[str]:
    """Return a host's IP addresses."""
    return list(dict.fromkeys(str(found[4][0]) for found in socket.getaddrinfo(host, HTTPS, type=socket.SOCK_STREAM)))


def secure(sock: socket.socket, host: str) -> socket.socket:
    """Return the socket with TLS, the host's certificate checked."""
    return ssl.create_default_context().wrap_socket(sock, server_hostname=host)


@dataclass(frozen=True)
class Net:
    """The ways out to the network; a test puts its own in."""

    resolve: Callable[[str], list[str]] = resolve
    connect: Callable[[tuple[str, int], float], socket.socket] = socket.create_connection
    secure: Callable[[socket.socket, str], socket.socket] = secure
    is_public: Callable[[str], bool] = is_public
    connect_seconds: float = CONNECT_SECONDS
    whole_seconds: float = WHOLE_SECONDS


def fetch(address: str, net: Net = Net()) -> bytes:
    """Return what an https address gives. Raises FetchRefused.

    Redirects are followed at most three times, each address checked like the first; 5 s to connect, 10 s and 1 MB
    in all.
    """
    until = time.monotonic() + net.whole_seconds
    for _ in range(MOST_REDIRECTS + 1):
        host, path = _parts(address)
        answer = _ask(host, path, net, until)
        if isinstance(answer, bytes):
            return answer
        address = urljoin(address, answer)
    raise FetchRefused(f"the calendar's address leads on more than {MOST_REDIRECTS} times: give the last one")


def _parts(address: str) -> tuple[str, str]:
    """Return host and path of an address that may be fetched at all."""
    try:
        parts = urlsplit(address)
        port = parts.port
        host = (parts.hostname or "").encode("idna").decode("ascii")
    except (ValueError, UnicodeError):
        raise FetchRefused("this is no web address: give one that begins with https://") from None
    if parts.scheme != "https" or not host or port not in (None, HTTPS):
        raise FetchRefused("only https addresses on the usual port are read: give one that begins with https://")
    if "@" in parts.netloc:
        raise FetchRefused("an address with a name or password in it is not read: give the calendar's private address")
    if any(ord(letter) <= 32 or ord(letter) == 127 for letter in address):
        raise FetchRefused("the address holds a space or a control character: copy it again")
    path = (parts.path or "/") + (f"?{parts.query}" if parts.query else "")
    return host, quote(path, safe="/?=&%;:@+,~!*'()$-._")


def _ask(host: str, path: str, net: Net, until: float) -> bytes | str:
    """Return the body, or the address a redirect names."""
    try:
        sock = _connected(host, net, until)
        try:
            return _exchange(sock, host, path, until)
        finally:
            sock.close()
    except FetchRefused:
        raise
    except TimeoutError:
        raise FetchRefused("the calendar's address answers too slowly: try again later") from None
    except (OSError, http.client.HTTPException) as fault:
        raise FetchRefused(f"the calendar's address does not answer ({type(fault).__name__}): look at it") from None


def _connected(host: str, net: Net, until: float) -> socket.socket:
    """Connect to an address that was checked; the name is not looked up a second time."""
    addresses = _looked_up(host, net)
    if not addresses or not all(net.is_public(address) for address in addresses):
        raise FetchRefused(f"'{host[:100]}' is not on the open internet: give a public address")
    sock = net.connect((addresses[0], HTTPS), min(net.connect_seconds, _left(until)))
    sock.settimeout(min(net.connect_seconds, _left(until)))
    try:
        return net.secure(sock, host)
    except BaseException:
        sock.close()
        raise


def _looked_up(host: str, net: Net) -> list[str]:
    """Look a name up, giving up after the time to connect; the system's own look-up knows no limit."""
    found: list[list[str]] = []

    def look() -> None:
        try:
            found.append(net.resolve(host))
        except (OSError, UnicodeError):
            found.append([])

    thread = threading.Thread(target=look, daemon=True)
    thread.start()
    thread.join(net.connect_seconds)
    if not found:
        raise FetchRefused("the name of the calendar's address is not found in time: try again later")
    return found[0]


def _exchange(sock: socket.socket, host: str, path: str, until: float) -> bytes | str:
    connection = http.client.HTTPConnection(host)
    connection.sock = _Timed(sock, until)
    headers = {"Accept": "text/calendar", "Accept-Encoding": "identity", "Connection": "close"}
    connection.request("GET", path, headers=headers)
    answer = connection.getresponse()
    if answer.status in (301, 302, 303, 307, 308):
        return answer.headers.get("Location", "")
    if answer.status != 200:
        raise FetchRefused(f"the calendar's address answers with status {answer.status}: open it in a browser")
    if answer.headers.get("Content-Encoding", "identity").lower() != "identity":
        raise FetchRefused("the calendar comes packed though it was asked for plain: save it as a file instead")
    body = answer.read(MOST_BYTES + 1)
    if len(body) > MOST_BYTES:
        raise FetchRefused(f"the calendar is larger than {MOST_BYTES} bytes: give one with a shorter time")
    return body


def _left(until: float) -> float:
    left = until - time.monotonic()
    if left <= 0:
        raise TimeoutError
    return left


class _Timed:
    """A socket whose reading ends at one moment, however slowly the other side drips."""

    def __init__(self, sock: socket.socket, until: float) -> None:
        self._sock, self._until = sock, until

    def sendall(self, data: Any) -> None:
        self._sock.settimeout(_left(self._until))
        self._sock.sendall(data)

    def makefile(self, *_: object, **__: object) -> io.BufferedReader:
        return io.BufferedReader(_TimedReader(self._sock, self._until))

    def close(self) -> None:
        """The one who connected closes it."""


class _TimedReader(io.RawIOBase):
    def __init__(self, sock: socket.socket, until: float) -> None:
        self._sock, self._until = sock, until

    def readable(self) -> bool:
        return True

    def readinto(self, buffer: Any) -> int:
        self._sock.settimeout(_left(self._until))
        return self._sock.recv_into(buffer)

"""What a request tells of where it comes from."""

from __future__ import annotations

import ipaddress
from collections.abc import Sequence
from urllib.parse import urlsplit

from starlette.requests import HTTPConnection

FORWARDED = ("forwarded", "x-forwarded-for", "x-real-ip", "via")


def host_of(netloc: str) -> str | None:
    """Read the name out of a Host header, without port; None when it is none.

    Examples
    --------
    >>> host_of("Workshop.example:8501"), host_of("[::1]:80"), host_of("a@b"), host_of("")
    ('workshop.example', '::1', None, None)
    """
    try:
        parts = urlsplit(f"//{netloc}")
        name, _ = parts.hostname, parts.port
    except ValueError:
        return None
    if name is None or parts.username is not None or parts.path or parts.query:
        return None
    return name.rstrip(".")


def asks_by_a_known_name(request: HTTPConnection, names: Sequence[str]) -> bool:
    """Tell whether the browser asks for one of the names this server answers to.

    Otherwise any web site could have its own name lead here and speak to the tool as its own.
    """
    if not names:
        return True
    known = {name.strip().lower().rstrip(".") for name in names}
    return "*" in known or host_of(request.headers.get("host", "")) in known


def comes_from_our_own_page(request: HTTPConnection) -> bool:
    """Tell whether a page of this very server sends the request, and not another site's.

    Source
    ------
    Fetch standard: a browser sends `Origin` with each POST.
    """
    origin = urlsplit(request.headers.get("origin", "")).netloc
    return bool(origin) and origin.lower() == request.headers.get("host", "").lower()


def is_from_this_machine(request: HTTPConnection) -> bool:
    """Tell whether somebody at this machine asks, and no server that passes others on."""
    passed_on = any(name in request.headers for name in FORWARDED)
    host = host_of(request.headers.get("host", ""))
    peer = request.client.host if request.client else None
    return not passed_on and _is_loopback(peer) and (host == "localhost" or _is_loopback(host))


def is_secure(request: HTTPConnection) -> bool:
    """Tell whether the browser speaks to us, or to who passes it on, encrypted."""
    return "https" in {request.url.scheme, request.headers.get("x-forwarded-proto", "")}


def _is_loopback(name: str | None) -> bool:
    try:
        return ipaddress.ip_address(name or "").is_loopback
    except ValueError:
        return False

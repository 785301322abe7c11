"""Nobody passes to pages, media or the WebSocket who is not logged in."""

from __future__ import annotations

from urllib.parse import quote

import streamlit as st
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import MutableHeaders
from starlette.requests import HTTPConnection
from starlette.responses import HTMLResponse, PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from configurator.app import account_pages, identity
from configurator.app.people import alone_here, cookie_name
from configurator.app.premises import now, record
from configurator.app.requests import asks_by_a_known_name, comes_from_our_own_page
from configurator.workflow import logging_in

OPEN_TO_ALL = ("/static/", "/app/static/", "/account/", "/favicon.")
OPEN_TO_ALL_EXACTLY = {"/_stcore/health", "/_stcore/host-config"}
BEFORE_THE_PROVIDER = ("/media/", "/_stcore/", "/component/")
"""Closed even to somebody who is on the way through an identity provider, but for the WebSocket."""
THE_WEB_SOCKET = "/_stcore/stream"
ON_EVERY_ANSWER = {
    "Content-Security-Policy": "frame-ancestors 'none'",
    "Referrer-Policy": "same-origin",
}


def gate(app: ASGIApp) -> ASGIApp:
    """Put the gate before an app.

    Parameters
    ----------
    app : ASGI app
        What only those reach who are logged in.

    Returns
    -------
    ASGI app
        The app behind its gate.
    """

    async def guarded(scope: Scope, receive: Receive, send: Send) -> None:
        refusal = None
        if scope["type"] in {"http", "websocket"}:
            refusal = await _refusal(HTTPConnection(scope))
        if scope["type"] == "http":
            send = _guarded(send, scope["path"])
        if refusal is None:
            await app(scope, receive, send)
        elif scope["type"] == "websocket":
            # Closed before it is accepted: the browser gets a 403.
            await send({"type": "websocket.close", "code": 1008})
        else:
            await refusal(scope, receive, send)

    return guarded


def _guarded(send: Send, path: str) -> Send:
    """Let no other site show an answer within its own page, and no browser keep a paper."""

    async def sent(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in ON_EVERY_ANSWER.items():
                headers.setdefault(name, value)
            if path.startswith("/media/"):
                headers["Cache-Control"] = "no-store"
        await send(message)

    return sent


async def _refusal(request: HTTPConnection) -> Response | None:
    path = request.scope["path"]
    if not asks_by_a_known_name(request, st.get_option("server.allowedHosts")):
        return PlainTextResponse("This server does not answer to that name.", 403)
    # The server behind would trust every page of this machine, and ask the internet about others.
    is_form = _method(request) == "POST" and path.startswith("/account/")
    if (is_form or "origin" in request.headers) and not comes_from_our_own_page(request):
        return PlainTextResponse("Send this from the tool’s own page.", 403)
    if path.startswith(OPEN_TO_ALL) or path in OPEN_TO_ALL_EXACTLY:
        return None
    if await run_in_threadpool(_may_pass, request.cookies.get(cookie_name()), path):
        return None
    return _to_the_log_in(request)


def _may_pass(token: str | None, path: str) -> bool:
    if logging_in.who_acts(record(), token, alone=alone_here(), now=now()) is not None:
        return True
    # The screens themselves lead to the provider, and show nothing else to who is unknown.
    is_on_the_way = path == THE_WEB_SOCKET or not path.startswith(BEFORE_THE_PROVIDER)
    return is_on_the_way and identity.is_configured()


def _to_the_log_in(request: HTTPConnection) -> Response:
    if _method(request) != "GET" or "text/html" not in request.headers.get("accept", ""):
        return PlainTextResponse("Log in first.", 401)
    wanted = request.url.path + (f"?{request.url.query}" if request.url.query else "")
    if request.headers.get("sec-fetch-site") == "cross-site":
        # A strict cookie stays behind when a link elsewhere leads here; from our page it comes.
        return HTMLResponse(account_pages.look_again_page(wanted))
    to = "" if wanted == "/" else f"?to={quote(wanted, safe='')}"
    return RedirectResponse(f"/account/log-in{to}", 303)


def _method(request: HTTPConnection) -> str:
    return str(request.scope.get("method", ""))

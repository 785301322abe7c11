"""The requests around the log-in: they alone set and clear the cookie."""

from __future__ import annotations

import asyncio
import hashlib
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from typing import ParamSpec, TypeVar
from urllib.parse import parse_qs, urlsplit

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response
from starlette.routing import Route

from configurator.app import account_pages, identity
from configurator.app.people import alone_here, cookie_name
from configurator.app.premises import now, record
from configurator.app.requests import is_from_this_machine, is_secure
from configurator.app.view_models.faults import FaultLine, fault_lines
from configurator.build_life.people import same_name
from configurator.errors import ConfiguratorError
from configurator.workflow import logging_in
from configurator.workflow.accounts import SHORTEST_PASSWORD, add_account, anybody_has_one

LOOK = Path(__file__).with_name("account.css")
LONGEST_BODY = 16_384
MOST_FIELDS = 20
KNOWN_FOR = timedelta(days=180)
_LINE = asyncio.Semaphore(2)
"""As many as hash a password at once; the others wait without taking a thread from anybody."""
Given = ParamSpec("Given")
Result = TypeVar("Result")
SAFE = {
    "Cache-Control": "no-store",
    "Content-Security-Policy": "default-src 'none'; style-src 'self'; font-src 'self'; "
    "form-action 'self'; frame-ancestors 'none'; base-uri 'none'",
    "X-Content-Type-Options": "nosniff",
}
NOT_EQUAL = FaultLine("", "The two new passwords are not the same.", "Type them again.", "")


def routes() -> list[Route]:
    """List the requests around the log-in."""
    return [
        Route("/account/log-in", _asked, methods=["GET"]),
        Route("/account/log-in", _log_in, methods=["POST"]),
        Route("/account/first", _first, methods=["POST"]),
        Route("/account/enter", _enter, methods=["POST"]),
        Route("/account/log-out", _log_out, methods=["POST"]),
        Route("/account/password", _password, methods=["GET", "POST"]),
        Route("/account/look.css", _look, methods=["GET"]),
    ]


def safe_way(to: str) -> str:
    r"""Keep a way back within these screens.

    Examples
    --------
    >>> safe_way("/papers?build=B-0001"), safe_way("//elsewhere.example"), safe_way("/\\x")
    ('/papers?build=B-0001', '/', '/')
    """
    is_ours = to.startswith("/") and not to.startswith(("//", "/account/")) and "\\" not in to
    return to if is_ours and to.isprintable() and not urlsplit(to).netloc else "/"


async def _asked(request: Request) -> Response:
    to = safe_way(request.query_params.get("to", "/"))
    if await run_in_threadpool(_is_known, request):
        return RedirectResponse(to, 303, headers=SAFE)
    if await run_in_threadpool(anybody_has_one, record()):
        return _html(account_pages.log_in_page(to, has_provider=identity.is_configured()))
    if is_from_this_machine(request):
        return _html(account_pages.first_account_page(SHORTEST_PASSWORD))
    return _html(account_pages.not_from_here_page(), 403)


async def _log_in(request: Request) -> Response:
    given = await _given(request)
    to, name = safe_way(given.get("to", "/")), given.get("name", "")
    mark = request.cookies.get(_mark_cookie(name), "")
    try:
        token = await _in_line(
            logging_in.log_in, record(), name, given.get("password", ""), now=now(), mark=mark
        )
    except ConfiguratorError as error:
        has_provider, faults = identity.is_configured(), fault_lines(error)
        asked = account_pages.log_in_page(to, has_provider=has_provider, name=name, faults=faults)
        return _html(asked, 403)
    mark = await run_in_threadpool(logging_in.mark_browser, record(), name)
    return _marked(request, await _come_in(request, to, token), name, mark)


async def _first(request: Request) -> Response:
    if not is_from_this_machine(request):
        return _html(account_pages.not_from_here_page(), 403)
    given = await _given(request)
    name, password = given.get("name", ""), given.get("password", "")
    if password != given.get("again", ""):
        return _html(account_pages.first_account_page(SHORTEST_PASSWORD, name, (NOT_EQUAL,)), 403)
    try:
        await _in_line(
            add_account, record(), name, ["manager"], password, only_as_first=True, now=now()
        )
        token = await _in_line(logging_in.log_in, record(), name, password, now=now())
    except ConfiguratorError as error:
        faults = fault_lines(error)
        return _html(account_pages.first_account_page(SHORTEST_PASSWORD, name, faults), 403)
    mark = await run_in_threadpool(logging_in.mark_browser, record(), name)
    return _marked(request, await _come_in(request, "/", token), name, mark)


async def _enter(request: Request) -> Response:
    """Exchange the secret that the screen gave to somebody the provider confirmed."""
    shown = (await _given(request)).get("token", "")
    token = await run_in_threadpool(logging_in.exchange, record(), shown, now=now())
    if token is None:
        return RedirectResponse("/", 303, headers=SAFE)
    return await _come_in(request, "/", token)


async def _log_out(request: Request) -> Response:
    await _given(request)
    token = request.cookies.get(cookie_name(), "")
    await run_in_threadpool(logging_in.log_out, record(), token)
    answer = RedirectResponse("/account/log-in", 303, headers=SAFE)
    for name in (cookie_name(), *(c for c in request.cookies if c.startswith(identity.COOKIES))):
        answer.delete_cookie(name, path="/")
    return answer


async def _password(request: Request) -> Response:
    token = request.cookies.get(cookie_name(), "")
    sign_in = await run_in_threadpool(logging_in.who_is, record(), token, now())
    if sign_in is None:
        return RedirectResponse("/account/log-in", 303, headers=SAFE)
    if request.method == "GET":
        return _html(account_pages.password_page(SHORTEST_PASSWORD))
    given = await _given(request)
    before, after = given.get("before", ""), given.get("password", "")
    if after != given.get("again", ""):
        return _html(account_pages.password_page(SHORTEST_PASSWORD, (NOT_EQUAL,)), 403)
    try:
        mark = await _in_line(
            logging_in.change_own_password, record(), token, before, after, now=now()
        )
    except ConfiguratorError as error:
        return _html(account_pages.password_page(SHORTEST_PASSWORD, fault_lines(error)), 403)
    answer = RedirectResponse("/account/log-in", 303, headers=SAFE)
    return _marked(request, answer, sign_in.account.name, mark)


async def _look(_request: Request) -> Response:
    return Response(LOOK.read_text("utf-8"), media_type="text/css", headers=SAFE)


def _is_known(request: Request) -> bool:
    token = request.cookies.get(cookie_name())
    return logging_in.who_acts(record(), token, alone=alone_here(), now=now()) is not None


async def _given(request: Request) -> dict[str, str]:
    body = b""
    async for part in request.stream():
        body += part
        if len(body) > LONGEST_BODY:
            return {}
    try:
        fields = parse_qs(body.decode("utf-8", "replace"), max_num_fields=MOST_FIELDS)
    except ValueError:
        return {}
    return {name: values[-1] for name, values in fields.items()}


async def _in_line(
    step: Callable[Given, Result], *given: Given.args, **named: Given.kwargs
) -> Result:
    """Take a step that hashes a password; those that wait for it hold up nobody else."""
    async with _LINE:
        return await run_in_threadpool(step, *given, **named)


async def _come_in(request: Request, to: str, token: str) -> Response:
    """Give the browser its secret, and end the one it had."""
    await run_in_threadpool(logging_in.log_out, record(), request.cookies.get(cookie_name(), ""))
    answer = RedirectResponse(to, 303, headers=SAFE)
    _set_cookie(request, answer, cookie_name(), token, logging_in.LOGGED_IN_FOR)
    return answer


def _marked(request: Request, answer: Response, name: str, mark: str) -> Response:
    """Let a browser be known by a mark: strangers who try the name do not hold it up."""
    _set_cookie(request, answer, _mark_cookie(name), mark, KNOWN_FOR)
    return answer


def _mark_cookie(name: str) -> str:
    return f"{cookie_name()}-{hashlib.sha256(same_name(name).encode()).hexdigest()[:12]}"


def _set_cookie(
    request: Request, answer: Response, name: str, value: str, lasts: timedelta
) -> None:
    answer.set_cookie(
        name,
        value,
        max_age=int(lasts.total_seconds()),
        path="/",
        secure=is_secure(request),
        httponly=True,
        samesite="strict",
    )


def _html(written: str, status: int = 200) -> Response:
    return HTMLResponse(written, status, headers=SAFE)

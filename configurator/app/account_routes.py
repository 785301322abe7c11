"""The requests around the log-in: they alone set and clear the cookie."""

from __future__ import annotations

from pathlib import Path
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
from configurator.errors import ConfiguratorError
from configurator.workflow import logging_in
from configurator.workflow.accounts import SHORTEST_PASSWORD, add_account, anybody_has_one

LOOK = Path(__file__).with_name("account.css")
LONGEST_BODY = 16_384
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
    to = safe_way(given.get("to", "/"))
    try:
        token = await run_in_threadpool(
            logging_in.log_in,
            record(),
            given.get("name", ""),
            given.get("password", ""),
            now=now(),
        )
    except ConfiguratorError as error:
        has_provider, faults = identity.is_configured(), fault_lines(error)
        return _html(account_pages.log_in_page(to, has_provider=has_provider, faults=faults), 403)
    return _with_cookie(request, RedirectResponse(to, 303, headers=SAFE), token)


async def _first(request: Request) -> Response:
    if not is_from_this_machine(request):
        return _html(account_pages.not_from_here_page(), 403)
    given = await _given(request)
    name, password = given.get("name", ""), given.get("password", "")
    if password != given.get("again", ""):
        return _html(account_pages.first_account_page(SHORTEST_PASSWORD, (NOT_EQUAL,)), 403)
    try:
        await run_in_threadpool(
            add_account, record(), name, ["manager"], password, only_as_first=True, now=now()
        )
        token = await run_in_threadpool(logging_in.log_in, record(), name, password, now=now())
    except ConfiguratorError as error:
        faults = fault_lines(error)
        return _html(account_pages.first_account_page(SHORTEST_PASSWORD, faults), 403)
    return _with_cookie(request, RedirectResponse("/", 303, headers=SAFE), token)


async def _enter(request: Request) -> Response:
    """Take over the secret that the screen gave to somebody the provider confirmed."""
    token = (await _given(request)).get("token", "")
    answer = RedirectResponse("/", 303, headers=SAFE)
    if await run_in_threadpool(logging_in.who_is, record(), token, now()) is None:
        return answer
    return _with_cookie(request, answer, token)


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
    if await run_in_threadpool(logging_in.who_is, record(), token, now()) is None:
        return RedirectResponse("/account/log-in", 303, headers=SAFE)
    if request.method == "GET":
        return _html(account_pages.password_page(SHORTEST_PASSWORD))
    given = await _given(request)
    before, after = given.get("before", ""), given.get("password", "")
    if after != given.get("again", ""):
        return _html(account_pages.password_page(SHORTEST_PASSWORD, (NOT_EQUAL,)), 403)
    try:
        await run_in_threadpool(
            logging_in.change_own_password, record(), token, before, after, now=now()
        )
    except ConfiguratorError as error:
        return _html(account_pages.password_page(SHORTEST_PASSWORD, fault_lines(error)), 403)
    return RedirectResponse("/account/log-in", 303, headers=SAFE)


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
    fields = parse_qs(body.decode("utf-8", "replace"), keep_blank_values=True, max_num_fields=20)
    return {name: values[-1] for name, values in fields.items()}


def _with_cookie(request: Request, answer: Response, token: str) -> Response:
    answer.set_cookie(
        cookie_name(),
        token,
        max_age=int(logging_in.LOGGED_IN_FOR.total_seconds()),
        path="/",
        secure=is_secure(request),
        httponly=True,
        samesite="strict",
    )
    return answer


def _html(written: str, status: int = 200) -> Response:
    return HTMLResponse(written, status, headers=SAFE)

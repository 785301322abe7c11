"""The screens as they are served: behind the gate, with the requests around the log-in."""

from __future__ import annotations

import streamlit as st
from starlette.middleware import Middleware

from configurator.app.account_routes import routes
from configurator.app.gate import gate

app = st.App("main.py", routes=routes(), middleware=[Middleware(gate)])

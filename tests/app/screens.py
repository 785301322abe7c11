"""Drive the screens in-process, on the tiny catalog and a data folder of their own."""

from __future__ import annotations

from pathlib import Path

from streamlit.testing.v1 import AppTest

MAIN = Path(__file__).parents[2] / "configurator" / "app" / "main.py"
ALONE = "Sole Sample"
TINY = Path(__file__).parents[1] / "catalogs" / "tiny"


def words(screen: AppTest) -> str:
    """Everything the screen says in its own markup, without the style sheet."""
    bodies = [element.proto.body for element in screen.get("html")]
    return "\n".join(body for body in bodies if not body.startswith("<style"))


def start_enquiry(screen: AppTest, name: str = "Ann Example") -> AppTest:
    """Go through the enquiry for the first vehicle, up to the talk."""
    screen.button(key="start-enquiry").click().run()
    screen.button(key="vehicle-clover-float").click().run()
    screen.text_input[0].input(name)
    return screen.button[-1].click().run()


def by_the_papers(talk: AppTest, page: str) -> AppTest:
    """Go from the talk to the papers, and from there to a page of figures."""
    papers = talk.button(key="to-papers").click().run()
    return papers.button(key=f"to-{page}").click().run()

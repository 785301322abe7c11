"""The column that stays in sight during the talk."""

from __future__ import annotations

from collections.abc import Sequence

import streamlit as st

from configurator.app.markup import tag, text
from configurator.app.pictures import chosen_looks, vehicle_picture
from configurator.app.premises import premises
from configurator.app.screens.how_link import how_link, page_link
from configurator.app.view_models.outlook import Outlook, outlook_of
from configurator.app.view_models.summary import (
    AxleBar,
    Figure,
    FindingLine,
    Summary,
    price_figure,
    summary_of,
)
from configurator.app.view_models.words import count
from configurator.build_spec.standing import GroupState, PriceFromTo
from configurator.catalog.models.vehicle import Vehicle
from configurator.workflow.builds import Draft
from configurator.workflow.consultation import outline_of_draft, price_of_draft
from configurator.workflow.default_completion import (
    builds_still_possible,
    default_completion_of_draft,
)


def show_summary(vehicle: Vehicle, groups: Sequence[GroupState], draft: Draft) -> None:
    """Lay out the picture, the figures, what is open and what was found."""
    with st.container(key="summary-key"):
        picture = vehicle_picture(vehicle, chosen_looks(groups))
        st.image(picture.svg, alt=picture.alt, width="stretch")
        st.html(_price(price_of_draft(premises(), draft), groups))
        figures = st.empty()
    with st.container(key="summary-more"):
        more = st.empty()
    spec = outline_of_draft(premises(), draft)
    default = default_completion_of_draft(premises(), draft)
    outlook = outlook_of(spec, default, builds_still_possible(premises(), draft))
    summary = summary_of(spec)
    figures.html(_key_figures(summary))
    more.html(_more(summary, outlook, draft.revision))


def _price(price: PriceFromTo, groups: Sequence[GroupState]) -> str:
    figure = price_figure(price, sum(group.origin is None for group in groups))
    return tag(
        "div",
        tag("p", text(figure.label), how_link(figure.label, figure.worked_out), class_="label"),
        tag("p", text(figure.value), class_="amount"),
        tag("p", text(figure.note), class_="small"),
        class_="price",
        data_price_low=price.low_gbp,
        data_price_high=price.high_gbp,
        aria_live="polite",
    )


def _key_figures(summary: Summary) -> str:
    ranges = "".join(_row(figure) for figure in summary.ranges)
    brief = "".join(
        _row(figure) for figure in (summary.kerb, summary.axles_in_brief, summary.finish)
    )
    return tag(
        "div",
        tag("dl", ranges, class_="figures"),
        tag("dl", brief, class_="figures brief"),
        class_="key-figures",
    )


def _more(summary: Summary, outlook: Outlook, revision: int) -> str:
    figures = [summary.kerb, summary.finish, *([summary.charging] if summary.charging else [])]
    return "".join(
        (
            tag(
                "dl",
                *(_row(figure) for figure in figures),
                class_="figures",
                data_figures_of=revision,
            ),
            _outlook(outlook),
            _ways("Charging and driving", "charging-and-driving"),
            tag("h3", text("Laden axles against their limits")),
            *(_axle(bar) for bar in summary.axles),
            _ways("All weights", "weights"),
            _urgent(summary.findings),
            _open_choices(summary),
            _notes(summary.findings),
        )
    )


def _ways(words: str, page: str) -> str:
    return tag("p", page_link(words, page), class_="ways")


def _outlook(outlook: Outlook) -> str:
    lines = []
    if outlook.bounds:
        lines.append(tag("p", text(outlook.bounds), class_="small"))
    if outlook.builds:
        lines.append(tag("p", text(outlook.builds), class_="builds"))
    if outlook.default:
        title = tag("h3", text("If the workshop chooses the rest"))
        figures = tag("dl", *(_row(figure) for figure in outlook.default), class_="figures")
        lines.append(tag("div", title, figures, class_="default"))
    return tag("section", *lines, class_="outlook") if lines else ""


def _row(figure: Figure) -> str:
    note = tag("dd", text(figure.note), class_="small") if figure.note else ""
    how = how_link(figure.label, figure.worked_out)
    value = tag("dd", text(figure.value), how, class_="value")
    return tag("div", tag("dt", text(figure.label)), value, note)


def _axle(bar: AxleBar) -> str:
    low, span = bar.low_percent, bar.high_percent - bar.low_percent
    drawing = tag(
        "div",
        tag("i", class_="sure", style=f"width:{low:.2f}%"),
        tag("i", class_="open", style=f"left:{low:.2f}%;width:{span:.2f}%"),
        *(
            tag("i", class_="limit", style=f"left:{percent:.2f}%")
            for percent in sorted({bar.limit_low_percent, bar.limit_high_percent})
        ),
        class_=f"bar {'within' if bar.is_within else 'beyond'}",
        aria_hidden="true",
    )
    words = tag(
        "p",
        tag("span", text(bar.label), how_link(bar.label, bar.worked_out)),
        tag("b", text(bar.load)),
        class_="axle-words",
    )
    limit = f"limit {bar.limit}, {bar.state}"
    limits = tag("p", text("; ".join(filter(None, [limit, bar.known]))), class_="small")
    return tag("div", words, drawing, limits, class_="axle")


def _urgent(findings: Sequence[FindingLine]) -> str:
    said = [_finding(line) for line in findings if line.severity != "notes"]
    return tag("section", *said, class_="findings") if said else ""


def _notes(findings: Sequence[FindingLine]) -> str:
    said = [_finding(line) for line in findings if line.severity == "notes"]
    title = tag("summary", text(f"Good to know ({len(said)})"))
    return tag("details", title, *said) if said else ""


def _finding(line: FindingLine) -> str:
    remedy = tag("p", text(line.remedy), class_="small") if line.remedy else ""
    return tag(
        "div",
        tag("p", tag("strong", text(f"{line.heading}. ")), text(line.sentence)),
        remedy,
        class_=f"finding {line.severity}",
    )


def _open_choices(summary: Summary) -> str:
    if summary.is_settled:
        return tag("p", text("Everything is chosen."), class_="all-chosen")
    choices = summary.open_choices
    title = text(f"{count(len(choices), 'choice', 'choices')} still open")
    lines = (
        tag("li", tag("span", text(choice.label)), tag("span", text(choice.until), class_="small"))
        for choice in choices
    )
    return tag("details", tag("summary", title), tag("ul", *lines), class_="open-choices")

"""The spec sheet says what is chosen, what it costs to the penny, and what is not yet known."""

from __future__ import annotations

import re
from decimal import Decimal

from configurator.documents.figures import day
from configurator.documents.spec_sheet import ISSUED_AS, spec_sheet_pdf
from configurator.documents.spec_sheet.opening import headline_figures
from tests.documents.extreme_specs import with_sixty_choices
from tests.documents.read_pdf import ReadPage, flat, flat_text, read_pages
from tests.documents.sample_spec import open_spec, sample_spec

AMOUNT = re.compile(r"(−?)£([\d,]+\.\d\d)$")


def amounts_between(pages: tuple[ReadPage, ...], start: str, end: str) -> list[Decimal]:
    """Amounts that end the lines after the one that is `start`, up to the one beginning `end`."""
    lines = [line for page in pages for line in page.text.splitlines()]
    first = lines.index(start)
    last = next(n for n in range(first, len(lines)) if lines[n].startswith(end))
    found = (AMOUNT.search(line) for line in lines[first : last + 1])
    return [Decimal(m[1].replace("−", "-") + m[2].replace(",", "")) for m in found if m]


def test_the_printed_choices_add_up_to_their_printed_sum(
    sheet_pages: tuple[ReadPage, ...],
) -> None:
    *lines, total = amounts_between(sheet_pages, "What is chosen", "Choices together")
    assert 18 == len(lines)
    assert total == sum(lines)


def test_the_printed_price_lines_add_up_to_the_printed_total(
    sheet_pages: tuple[ReadPage, ...],
) -> None:
    *lines, total = amounts_between(sheet_pages, "Price", "Total with VAT")
    assert sample_spec().price.total_low_gbp == total
    assert total == sum(lines)
    assert any(line < 0 for line in lines)


def test_sixty_printed_choices_add_up_over_pages() -> None:
    pages = read_pages(spec_sheet_pdf(with_sixty_choices()))
    *lines, total = amounts_between(pages, "What is chosen", "Choices together")
    assert 60 == len(lines)
    assert total == sum(lines)


def test_open_choices_are_printed_with_stage_day_and_from_to(
    open_sheet_pages: tuple[ReadPage, ...],
) -> None:
    text = flat_text(open_sheet_pages)
    price = open_spec().price
    assert "Floor Dry build, by 12 February 2027 3" in text
    assert "Towing Final assembly, by 1 April 2027 3" in text
    assert f"Total with VAT £{price.total_low_gbp:,} to £{price.total_high_gbp:,}" in text
    assert "What is still open adds £310.00 to £2,180.50" in text
    assert "1,540–1,600 kg" in text
    assert "Town, summer 151–194 km open open" in text


def test_the_lines_of_an_open_build_add_up_to_the_sum_decided(
    open_sheet_pages: tuple[ReadPage, ...],
) -> None:
    *lines, decided = amounts_between(open_sheet_pages, "Price", "Sum of the lines above")
    assert open_spec().price.decided_gbp == decided
    assert decided == sum(lines)


def test_every_choice_says_whose_it_is(sheet_pages: tuple[ReadPage, ...]) -> None:
    text = flat_text(sheet_pages)
    assert "Colour Harbour grey over chalk your choice" in text
    assert "Bumpers Painted steel workshop's choice" in text
    assert "Roof rack None follows from the rest" in text


def test_figures_say_how_they_are_known(sheet_pages: tuple[ReadPage, ...]) -> None:
    text = flat_text(sheet_pages)
    for words in ("Kerb, computed", "Kerb, measured", "computed band", "Computed, by the weakest"):
        assert words in text
    assert "not yet" in text


def test_findings_print_their_numbers_and_remedies(sheet_pages: tuple[ReadPage, ...]) -> None:
    text = flat_text(sheet_pages)
    assert "The rear axle is close to its limit" in text
    assert "1,195 kg" in text
    assert "limit 1,250 kg" in text
    assert "Weigh the finished" in text


def test_the_sheet_says_what_it_is_not(sheet_pages: tuple[ReadPage, ...]) -> None:
    text = flat_text(sheet_pages)
    assert "A computed check is not an approval." in text
    assert "it is not a contract" in text
    assert "the terms stand in the quotation" in text


def test_a_full_build_fits_on_three_pages(sheet_pages: tuple[ReadPage, ...]) -> None:
    assert 3 == len(sheet_pages)


def test_the_head_of_a_long_table_repeats_on_each_of_its_pages() -> None:
    pages = read_pages(spec_sheet_pdf(with_sixty_choices()))
    with_rows = [page for page in pages if re.search(r"^Question \d+", page.text, re.MULTILINE)]
    assert len(with_rows) > 1
    assert all("Question Chosen Whose choice With VAT" in flat(p.text) for p in with_rows)


def test_a_range_measured_on_the_road_is_called_so_from_the_first_page_on() -> None:
    spec = sample_spec()
    measured = tuple(
        line.model_copy(
            update={"conditions": f"{line.conditions}; measured on the road: measured trips"}
        )
        for line in spec.ranges
    )
    figures = headline_figures(spec.model_copy(update={"ranges": measured}))
    about = [about for title, _, about in figures if title.startswith("Range")]
    assert ["band, measured on the road"] * 2 == about
    computed = [about for title, _, about in headline_figures(spec) if title.startswith("Range")]
    assert ["computed band"] * 2 == computed


def test_an_issued_spec_is_no_offer_and_says_only_the_day_of_its_prices() -> None:
    # Source: common practice, no source: an offer holds for some days, an order until it is kept.
    spec = sample_spec()
    for told, is_offer in (
        ("", True),
        ("The draft, beside issued spec A.", True),
        (f"{ISSUED_AS} A. Ordered by the customer.", False),
    ):
        text = flat_text(read_pages(spec_sheet_pdf(spec, told)))
        valid = f", valid {spec.workshop.quotation_valid_days} days"
        assert f"Prices as of {day(spec.build.priced_on)}" in text
        assert is_offer == (valid in text), told


def test_provisional_sums_are_said_to_change_only_where_there_is_one() -> None:
    spec = sample_spec()
    lines = tuple(line for line in spec.price.lines if line.kind != "provisional")
    without = spec.model_copy(update={"price": spec.price.model_copy(update={"lines": lines})})
    for each, is_said in ((spec, True), (without, False)):
        text = flat_text(read_pages(spec_sheet_pdf(each)))
        assert is_said == ("provisional sums will change" in text)
        assert "to the penny" in text
        assert "stand in the quotation" in text

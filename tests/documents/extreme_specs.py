"""Specs at the edges of what people type and choose."""

from __future__ import annotations

from decimal import Decimal

from configurator.build_spec.spec import Spec
from tests.documents.sample_spec import safety, spec_data, text

LONG_NAME = "Maximiliana-Theodora van der Lange-Ohnezahl " * 4 + "and Company, Builders & Sons"
UNBROKEN_NAME = "W" * 200
MARKUP_NAME = '<b onclick="x()">Bold</b> & <a href="https://example.invalid">*link*</a> </para> `x`'
SCRIPTS = "Ελένη Жанна 漢字 العربية עברית 😀 नमस्ते e\u0301 \u202eesrever\u202c a\u200bb"


def with_long_names() -> Spec:
    data = spec_data()
    data["build"]["customer"] = {"name": LONG_NAME[:200].strip(), "contact": UNBROKEN_NAME}
    data["build"]["donor"]["description"] = "A long tale of a vehicle. " * 70
    data["build"]["donor"]["identity_mark"] = UNBROKEN_NAME
    for choice in data["choices"]:
        choice["option_label"] = "Unbrokenlylongoption" * 4
        choice["group_label"] = "Q" * 80
        choice["summary"] = "Long summary without end " * 24
    data["workshop"]["name"] = "N" * 80
    data["workshop"]["contact"] = "Contact " * 70
    data["vehicle"]["label"] = "V" * 80
    data["survey"][0]["note"] = "note " * 390
    data["build"]["as_built"] = {"serial_numbers": {}, "records": []}
    for fitted in data["fitted"]:
        fitted["serial_number"] = UNBROKEN_NAME
        fitted["component"]["label"] = "L" * 80
        fitted["component"]["maker"] = "M" * 80
    for line in data["price"]["lines"]:
        line["label"] = "P" * 80
    return Spec.model_validate(data)


def with_markup() -> Spec:
    data = spec_data()
    data["build"]["customer"] = {
        "name": MARKUP_NAME,
        "contact": "**bold** <script>alert(1)</script>",
    }
    data["build"]["donor"]["description"] = "<para>\n# no heading\n- no list & <br/> end"
    data["choices"][0]["option_label"] = "</font><b>Harbour & grey"
    data["workshop"]["terms"][0]["sentences"] = ["<i>Not italic</i> & plain."]
    data["texts"].append(text("care", id="raw", title="<u>Raw</u>", body=(
        "Raw <b>HTML</b> &amp; <img src=x onerror=y>\n\n<div>block</div>\n\n"
        "![a picture](https://example.invalid/a.png) [words](https://example.invalid/?a=1&b=\"2\") "
        "[bad](javascript:alert(1))"
    )))  # fmt: skip
    return Spec.model_validate(data)


def with_scripts() -> Spec:
    data = spec_data()
    data["build"]["customer"] = {"name": SCRIPTS, "contact": SCRIPTS}
    data["workshop"]["name"] = "Ωmega Мастерская 工房"
    data["choices"][0]["option_label"] = SCRIPTS
    data["survey"][0]["note"] = SCRIPTS
    return Spec.model_validate(data)


def with_sixty_choices() -> Spec:
    data = spec_data()
    one = data["choices"][0]
    data["choices"] = [
        {**one, "group_id": f"group-{n}", "group_label": f"Question {n}",
         "part_id": data["workshop"]["talk"][n % 4]["id"]}
        for n in range(60)
    ]  # fmt: skip
    lines = [
        {"id": f"group-{n}.one", "label": f"Question {n}: option", "kind": "option",
         "amount_gbp": Decimal("10.01") * n}
        for n in range(60)
    ]  # fmt: skip
    total = sum((line["amount_gbp"] for line in lines), Decimal(0))
    vat = (total / 6).quantize(Decimal("0.01"))
    data["price"] |= {
        "lines": lines, "decided_gbp": total, "total_low_gbp": total, "total_high_gbp": total,
        "vat_included_low_gbp": vat, "vat_included_high_gbp": vat, "payments": [],
    }  # fmt: skip
    return Spec.model_validate(data)


def with_as_little_as_possible() -> Spec:
    data = spec_data()
    data["build"] |= {"choices": {}, "donor": {}, "notes": ""}
    data["build"]["customer"] = {"name": "A"}
    for field in (
        "choices", "open_groups", "facts", "ledger", "ranges", "charging", "findings", "fitted",
        "survey", "texts", "country_rules",
    ):  # fmt: skip
        data[field] = []
    data["plan"]["stages"] = []
    data["workshop"]["terms"] = []
    data["workshop"]["exclusions"] = []
    data["vehicle"]["controls"] = []
    data["vehicle"]["lifting_points"] = []
    data["price"] |= {"lines": [], "decided_gbp": Decimal("0.00"), "payments": []}
    return Spec.model_validate(data)


def with_long_texts() -> Spec:
    data = spec_data()
    long_safety = safety("danger") | {"avoid": ["Keep away from every part of it. " * 15] * 30}
    data["texts"] = [
        text("safety", id="long-panel", safety=long_safety, body=""),
        text("care", id="long-words", body="x" * 3000 + "\n\n" + "sentence of words. " * 600),
        text("care", id="deep", body="> " * 12 + "deep\n\n" + "".join(
            "  " * depth + f"- level {depth}\n" for depth in range(12)
        )),
        text("care", id="wide", body="|" + "a|" * 12 + "\n|" + "-|" * 12 + "\n|"
             + "cell words|" * 12 + "\n|" + "word " * 400 + "|" * 12),
        text("care", id="code", body="```\n" + "code  " * 60 + "\n```\n\n    indented\n"),
    ]  # fmt: skip
    return Spec.model_validate(data)


EXTREMES = {
    "long names": with_long_names,
    "markup": with_markup,
    "scripts": with_scripts,
    "sixty choices": with_sixty_choices,
    "little": with_as_little_as_possible,
    "long texts": with_long_texts,
}

"""What the page says and carries, read from the file without a browser."""

from __future__ import annotations

import base64
import hashlib
import io
import re
from itertools import pairwise

import numpy as np
import pytest
from lxml import html
from PIL import Image

from sheet.made import CARDS, case, drawing_of, sample
from underlit.glow.picture import lit_card
from underlit.profiles import load_profile
from underlit.sheet.scene import scene_of
from underlit.sheet.steps import steps_of
from underlit.workflows.preview import Wish, preview, sources_for

from .made import page, shared

#: A page must stay under this (bytes).
MEGABYTE = 1_000_000

NASTY = '</script><b>"o\'k" & <!-- ]]> ümläut</b>'


def parsed(text: str) -> html.HtmlElement:
    return html.document_fromstring(text)


def words_of(node: html.HtmlElement) -> str:
    return " ".join(node.text_content().split())


@pytest.mark.parametrize("name", CARDS)
def test_small_and_whole(name: str) -> None:
    made = shared(sample(name), f"{name}.svg")
    assert list(made.files) == [f"{name}-share.html"]
    (data,) = made.files.values()
    assert len(data) < MEGABYTE
    assert made.report["share"]["bytes"] == len(data)
    root = parsed(data.decode())
    assert root.get("lang") == "en"
    title = name.replace("-", " ").capitalize()
    assert (root.findtext(".//title"), root.findtext(".//h1")) == (title, title)
    levels = [int(h.tag[1]) for h in root.iter("h1", "h2", "h3")]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(b <= a + 1 for a, b in pairwise(levels))


@pytest.mark.parametrize("name", CARDS)
def test_nothing_from_outside(name: str) -> None:
    text = re.sub(r"base64,[\w+/=]+", "base64,", page(sample(name)))
    assert not re.search(r"(?i)\bhttps?:|//[a-z]|@import|<link|<iframe|<object|\bfetch\(", text)
    root = parsed(text)
    for node in root.iter():
        for key, value in node.attrib.items():
            assert not key.startswith("on")
            assert key != "style"  # the policy would refuse it
            if key in ("src", "href", "srcset", "data", "action"):
                assert value.startswith(("data:image/webp;base64,", "#"))


def test_policy_allows_this_style_and_script_and_nothing_else() -> None:
    root = parsed(page(sample("lantern")))
    (policy,) = root.xpath("//meta[@http-equiv='Content-Security-Policy']/@content")
    rules = dict(rule.strip().split(" ", 1) for rule in policy.split(";"))

    def hashed(tag: str) -> str:
        (node,) = root.iter(tag)
        digest = hashlib.sha256(node.text.encode()).digest()
        return f"'sha256-{base64.b64encode(digest).decode()}'"

    assert rules == {
        "default-src": "'none'",
        "img-src": "data:",
        "style-src": hashed("style"),
        "script-src": hashed("script"),
        "base-uri": "'none'",
        "form-action": "'none'",
    }
    order = [node.tag for node in root.find("head")]
    assert order[:2] == ["meta", "meta"]


@pytest.mark.parametrize("name", CARDS)
def test_carries_the_light_that_the_preview_draws(name: str) -> None:
    """The picture is the field of the preview, pixel for pixel, over the same place."""
    text = sample(name)
    own = case(text)
    made = shared(text)
    (data,) = made.files.values()
    (image,) = parsed(data.decode()).xpath("//*[local-name()='image']")
    pixels = np.asarray(Image.open(io.BytesIO(base64.b64decode(image.get("href").split(",")[1]))))
    again = lit_card(own.card, sources_for(own, Wish()), own.profile, 900_000)
    assert np.array_equal(pixels, again.pixels[..., :3])
    shown = preview(drawing_of(text), load_profile("hand-laid", {}, None), Wish())
    x0, y0, x1, y1 = shown.picture.box
    place = [float(image.get(key)) for key in ("x", "y", "width", "height")]
    assert place == pytest.approx([x0, y0, x1 - x0, y1 - y0], abs=0.006)
    lit = [one["id"] for one in made.report["lights"] if one["lit"]]
    assert made.report["share"]["lights"] == lit
    assert [one["id"] for one in shown.report["glow"]["lights"]] == lit


@pytest.mark.parametrize("name", CARDS)
def test_tells_the_steps_of_the_sheet(name: str) -> None:
    scene = scene_of(case(sample(name)))
    steps = steps_of(scene, printed=())
    root = parsed(page(sample(name)))
    rows = root.xpath("//ol[@id='steps']/li")
    assert len(rows) == len(steps)
    assert root.xpath("//input[@id='slider']/@max") == [str(len(steps))]
    groups = set(root.xpath("//*[@class='thing']/@id"))
    shown: list[str] = []
    for n, (row, step) in enumerate(zip(rows, steps, strict=True), 1):
        assert words_of(row.find("h3")) == f"Step {n} of {len(steps)} {step.title}"
        assert [words_of(p) for p in row.findall("p")] == [" ".join(w.split()) for w in step.words]
        new = row.get("data-new").split()
        assert len(new) == len(step.new)
        shown += new
    assert set(shown) == groups
    for tape in scene.tapes:
        assert tape.label in [t.text for t in root.xpath("//*[@class='says']/text")]


def test_supplies_are_those_of_the_report() -> None:
    made = shared(sample("street"), copies="7")
    (data,) = made.files.values()
    root = parsed(data.decode())
    rows = [[words_of(c) for c in row] for row in root.xpath("//section[@id='supplies']//tbody/tr")]
    told = made.report["supplies"]
    each = {row[0]: (row[1], float(row[2]), int(row[3])) for row in rows if len(row) == 4}
    assert each == {
        " ".join(item["what"].split()): (
            item["unit"], float(f"{item['per_card']:.2f}"), item["total"]
        )
        for item in told["items"]
    }  # fmt: skip
    cuts = [row for row in rows if len(row) == 5]
    assert [(row[0], float(row[2]), int(row[3]), int(row[4])) for row in cuts] == [
        (strip["label"], round(strip["length"], 1), strip["folds"], strip["cut"])
        for use in told["tape"]
        for strip in use["strips"]
    ]


def test_prices_stay_with_the_maker() -> None:
    prices = b"item,price\nlight warm-white,47.11\n"
    from sheet.made import sheet

    made = sheet(sample("street"), pages="share", prices=prices)
    assert made.report["supplies"]["cost"] is not None
    (data,) = made.files.values()
    assert b"47.11" not in data
    assert b"565.32" not in data


def test_children_first_among_the_cautions() -> None:
    root = parsed(page(sample("lantern")))
    (warning,) = root.xpath("//p[@class='warning']")
    assert words_of(warning).startswith(
        "This card holds a coin battery (CR2032). Keep it away from"
    )
    assert "emergency department at once" in words_of(warning)


def faulty(name: str) -> str:
    return sample(f"faulty/{name}")


def test_a_card_with_a_stop_says_not_ready_everywhere() -> None:
    made = shared(faulty("polarities-touch"))
    stops = [f for f in made.report["findings"] if f["severity"] == "stop"]
    assert stops
    assert "NOT READY" in made.message
    (data,) = made.files.values()
    root = parsed(data.decode())
    (banner,) = root.xpath("//p[@class='banner']")
    assert words_of(banner).startswith("Not ready This card does not work as it is drawn: 1 fault")
    stamps = root.xpath("//*[@class='stamp']")
    assert [s.getparent().get("id") for s in stamps] == [None, "circuit"]
    assert [words_of(g) for g in root.xpath("//*[@class='fault']")] == ["1"]
    listed = [words_of(li) for li in root.xpath("//ol[@class='stop']/li")]
    assert len(listed) == len(stops)
    for stop, line in zip(stops, listed, strict=True):
        assert line.startswith(" ".join(stop["message"].split()))


@pytest.mark.parametrize("name", CARDS)
def test_a_card_that_works_is_not_called_unready(name: str) -> None:
    assert "ot ready" not in re.sub(r"<style>.*?</style>", "", page(sample(name)), flags=re.S)


def test_dark_lights_are_named() -> None:
    made = shared(faulty("light-unfed"))
    dark = [i + 1 for i, one in enumerate(made.report["lights"]) if not one["lit"]]
    assert dark
    (data,) = made.files.values()
    (state,) = parsed(data.decode()).xpath("//p[@id='state']")
    every = len(made.report["lights"])
    assert (
        state.get("data-lit") == f"{every - 1} of {every} lights shine; light {dark[0]} stays dark."
    )


def test_names_of_a_maker_stay_text() -> None:
    text = sample("lantern").replace('id="battery"', 'id="x&lt;/script&gt;&lt;i&gt;"')
    text = text.replace('underlit:type="warm-white"', 'underlit:type="&lt;b&gt;&quot;x"')
    made = shared(text, f"{NASTY}.svg")
    (data,) = made.files.values()
    whole = data.decode()
    root = parsed(whole)
    assert root.findtext(".//title") == NASTY.replace("--", "")
    assert f"from {NASTY}.svg." in words_of(root.find(".//footer"))
    assert len(root.findall(".//script")) == 1
    assert not root.findall(".//b")
    assert not root.findall(".//i")
    assert whole.count("</script>") == 1
    assert '<b>"x' in words_of(root.find("body"))


def test_a_name_that_is_no_unicode_is_no_accident() -> None:
    assert "?" in page(sample("lantern"), "caf\udce9.svg")


def test_same_card_same_bytes() -> None:
    assert page(sample("lantern")) == page(sample("lantern"))


def without(text: str, role: str) -> str:
    """The drawing without a layer."""
    from lxml import etree

    root = etree.fromstring(text.encode())
    ours = "{urn:underlit:card:1}role"
    label = "{http://www.inkscape.org/namespaces/inkscape}label"
    for layer in root.findall("{http://www.w3.org/2000/svg}g"):
        if (layer.get(ours) or layer.get(label, "").lower().replace(" ", "-")) == role:
            root.remove(layer)
    return etree.tostring(root).decode()


@pytest.mark.parametrize(
    ("role", "sentence", "button"),
    [
        ("lights", "There is no light on this drawing yet, so it stays dark.", False),
        ("power", "Shown as if all lights burned: battery or tape are not drawn yet.", False),
        ("tape", "Shown as if all lights burned: battery or tape are not drawn yet.", True),
    ],
)
def test_what_is_missing_is_said(role: str, sentence: str, button: bool) -> None:
    root = parsed(page(without(sample("firefly-jar"), role)))
    assert sentence in words_of(root.find(".//main"))
    assert bool(root.xpath("//button[@id='press']")) is button
    assert words_of(root.xpath("//p[@class='banner']")[0])
    making = words_of(root.xpath("//*[@id='circuit']/ancestor::section")[0])
    assert "yet: only what is drawn so far is shown." in making
    assert "print" not in making.split("Step 1")[0]


def test_without_a_front_the_circuit_is_shown_all_the_same() -> None:
    root = parsed(page(without(sample("firefly-jar"), "die-cut")))
    assert "The front of the card is not drawn yet." in words_of(root.find(".//main"))
    assert root.xpath("//*[@id='circuit']")
    assert not root.xpath("//button[@id='press']")


def test_a_circuit_on_the_back_is_mirrored_and_the_front_is_not() -> None:
    text = sample("firefly-jar")
    made = shared(text), shared(text.replace("<svg", '<svg underlit:side="back"', 1))
    front, back = (parsed(next(iter(one.files.values())).decode()) for one in made)
    for key in ("press_at", "lights", "closes"):
        assert made[0].report["share"][key] == made[1].report["share"][key]

    def paper(root: html.HtmlElement) -> str:
        return str(root.xpath("//*[@class='paper']/@d")[0])

    def lens(root: html.HtmlElement) -> list[float]:
        """Where lights stand across the picture of the circuit."""
        found = root.xpath("//*[@data-kind='all-lights']/*[local-name()='circle']/@cx")
        return [float(x) for x in found]

    assert paper(front) == paper(back)
    sums = {round(a + b, 1) for a, b in zip(lens(front), lens(back), strict=True)}
    assert len(sums) == 1
    assert len(set(lens(front))) > 1
    assert "Seen from the back" in words_of(back.find(".//main"))
    assert "Seen from the back" not in words_of(front.find(".//main"))


@pytest.mark.parametrize(
    ("way", "word", "kind"),
    [
        ("press", "Press", "hold"),
        ("flap", "Press", "hold"),
        ("slide", "Push", "turn"),
        ("tab", "Pull", "turn"),
        ("open", "Open", "turn"),
    ],
)
def test_the_spot_says_what_to_do(way: str, word: str, kind: str) -> None:
    text = sample("firefly-jar").replace('closes="press"', f'closes="{way}"')
    made = shared(text)
    (data,) = made.files.values()
    root = parsed(data.decode())
    (button,) = root.xpath("//button[@id='press']")
    assert (words_of(button), button.get("data-way")) == (word, kind)
    assert button.get("aria-label").endswith("to light the card.")
    assert made.report["share"]["closes"] == way
    assert root.xpath("//*[@id='card']/@class") == ["card"]


def test_what_always_shines_has_nothing_to_press() -> None:
    made = shared(sample("firefly-jar").replace('closes="press"', 'closes="always"'))
    (data,) = made.files.values()
    root = parsed(data.decode())
    assert root.xpath("//*[@id='card']/@class") == ["card lit"]
    assert root.xpath("//button[@id='press'] | //input[@id='keep']") == []
    (state,) = root.xpath("//p[@id='state']")
    assert words_of(state).startswith("It shines: ")
    assert made.report["share"]["closes"] == "always"
    assert "to light the card" not in data.decode()


def test_a_switch_is_the_spot_where_it_closes_the_circuit() -> None:
    switch = (
        '<g id="sw" underlit:part="switch" underlit:closes="slide" transform="translate(94.488,'
        '94.488)"><rect x="-20" y="-8" width="40" height="16" underlit:feature="body"/>'
        '<rect x="-18" y="-5" width="10" height="10" underlit:feature="contact-1"/>'
        '<rect x="8" y="-5" width="10" height="10" underlit:feature="contact-2"/></g>'
    )
    text = sample("firefly-jar").replace('closes="press"', 'closes="always"')
    made = shared(text.replace('<g id="battery"', f'{switch}<g id="battery"', 1))
    told = made.report["share"]
    assert (told["closes"], told["press_at"]) == ("slide", pytest.approx([25.0, 25.0], abs=0.001))
    root = parsed(next(iter(made.files.values())).decode())
    rings = root.xpath("//*[@data-kind='done']/*[local-name()='circle'][@stroke and @fill='none']")
    card = root.xpath("//*[@data-kind='done']/*[local-name()='path']/@d")[0]
    corner = [float(v) for v in re.findall(r"[\d.]+", card)]
    (ring,) = rings
    scale = (max(corner[::2]) - min(corner[::2])) / 105.0
    assert float(ring.get("cx")) == pytest.approx(min(corner[::2]) + 15.0 * scale, abs=0.1)
    assert float(ring.get("cy")) == pytest.approx(min(corner[1::2]) + 15.0 * scale, abs=0.1)


def test_colour_changing_lights_have_pictures_of_their_colours() -> None:
    text = sample("firefly-jar").replace("warm-white", "colour-change")
    made = shared(text)
    (data,) = made.files.values()
    assert len(data) < MEGABYTE
    root = parsed(data.decode())
    images = root.xpath("//*[local-name()='image']")
    assert len(images) == made.report["share"]["pictures"] == 5
    tints = []
    for image in images:
        raw = base64.b64decode(image.get("href").split(",")[1])
        pixels = np.asarray(Image.open(io.BytesIO(raw)).convert("RGB")).astype(float)
        bright = pixels[pixels.max(axis=2) > 120]
        tints.append(bright.mean(axis=0))
    for i, one in enumerate(tints):
        for other in tints[:i]:
            assert np.abs(one / one.max() - other / other.max()).max() > 0.1
    assert "Colour changing lights" in words_of(root.find("body"))

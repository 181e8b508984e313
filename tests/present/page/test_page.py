"""The page in a real browser, from a disk: silent, whole, worked by hand, on every width."""

from __future__ import annotations

import base64
import io
import re
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from PIL import Image

from massing.present.page.files import MODULES, module_source, pressed
from massing.present.page.page import page_html
from massing.present.page.sun_table import sun_table
from massing.study.study import read_study
from massing.sun.position import site_positions, to_house_frame
from tests.helpers.browser import AXE, PATIENCE_MS
from tests.present.page.conftest import LIGHT_SCENE, MARSH, settle

MOST_BYTES = 20_000_000
WIDTHS = (390, 820, 1440)


# --- without a browser -------------------------------------------------------------------


def test_the_same_subject_gives_the_same_page_of_less_than_20_mb(subject, html):
    assert len(html.encode()) < MOST_BYTES
    assert page_html(subject) == html


def test_nothing_in_the_page_points_elsewhere(html):
    words = re.sub(r"<script.*?</script>", "", html, flags=re.S)
    for found in re.findall(r'(?:src|href)="([^"]*)"', words) + re.findall(
        r"url\(([^)]*)\)", words
    ):
        assert found.startswith(("data:", "#")), found[:80]
    assert "@import" not in words
    assert 'href="http' not in html


def test_modules_import_only_each_other():
    for name in MODULES:
        source = module_source(name)
        assert "</script" not in source.lower()
        assert "<!--" not in source
        for imported in re.findall(
            r"""^\s*(?:import|export|\})[^;'"]*?from ?["']([^"']+)""", source, re.M
        ):
            assert imported in MODULES, (name, imported)


def test_pictures_are_pressed_harder_to_keep_to_the_budget(subject):
    fine, coarse = pressed(subject.pictures[:2]), pressed(subject.pictures[:2], budget=1)
    assert sum(map(len, coarse)) < sum(map(len, fine))


def test_words_of_the_scene_are_escaped(subject):
    titled = LIGHT_SCENE.replace("title: Marsh Road house", "title: <b>House</b> & 'barn'")
    loaded = read_study(MARSH, titled).loaded
    text = page_html(replace(subject, loaded=loaded, pictures=()))
    assert "<b>House</b> &" not in text
    assert "&lt;b&gt;House&lt;/b&gt; &amp; &#x27;barn&#x27;" in text


def test_without_pictures_the_model_and_the_words_stand(subject):
    text = page_html(replace(subject, pictures=()))
    assert 'id="before-and-after"' not in text
    assert 'id="model"' in text
    assert 'id="figures"' in text


# --- in the browser ----------------------------------------------------------------------


def test_it_says_nothing_and_asks_for_nothing(opened):
    assert opened.said == []
    elsewhere = [url for url in opened.asked if not url.startswith(("data:", "blob:"))]
    assert elsewhere == [opened.path.as_uri()]
    assert opened.page.evaluate("stage.dataset.failed") is None


def test_every_picture_is_decoded(opened, subject):
    page = opened.page
    sizes = page.evaluate("[...document.images].filter(i => !i.hidden).map(i => i.naturalWidth)")
    assert sizes
    assert all(size == 160 for size in sizes)
    decoded = page.evaluate(
        """async () => {
            const all = Object.values(JSON.parse(document.getElementById("pictures").textContent));
            let count = 0;
            for (const text of all) {
                const image = new Image();
                image.src = "data:image/webp;base64," + text;
                await image.decode();
                count += image.naturalWidth > 0;
            }
            return count;
        }"""
    )
    assert decoded == len(subject.pictures)


def clip(page):
    return page.evaluate("getComputedStyle(document.querySelector('.both .right')).clipPath")


def test_the_divider_moves_by_mouse_and_by_keys(opened):
    page = opened.page
    box = page.locator(".both").bounding_box()
    middle = box["y"] + box["height"] / 2
    page.mouse.move(box["x"] + 0.5 * box["width"], middle)
    page.mouse.down()
    page.mouse.move(box["x"] + 0.2 * box["width"], middle, steps=4)
    page.mouse.up()
    assert float(page.locator("#divider").input_value()) == pytest.approx(20.0, abs=1.0)
    assert re.search(r"\b(19|20|21)(\.\d+)?%\)", clip(page))
    page.locator("#divider").focus()
    before = float(page.locator("#divider").input_value())
    for _ in range(4):
        page.keyboard.press("ArrowRight")
    assert float(page.locator("#divider").input_value()) == pytest.approx(before + 2.0)
    page.keyboard.press("End")
    assert "100%" in clip(page)


def test_a_picture_chosen_is_the_one_shown_and_enlarges(opened, subject):
    page = opened.page
    name = subject.designs[2].name

    def tone(selector):
        return page.evaluate(
            """async (selector) => {
                const image = document.querySelector(selector);
                await image.decode();
                const canvas = document.createElement("canvas");
                const pen = canvas.getContext("2d");
                pen.drawImage(image, 0, 0, 4, 4);
                return pen.getImageData(1, 1, 1, 1).data[0];
            }""",
            selector,
        )

    def expected(design, view, sun, look):
        keys = [(p.design, p.view, p.sun.label, p.look) for p in subject.pictures]
        return (37 * keys.index((design, view, sun, look)) + 20) % 230

    sun = subject.suns[2].label
    assert page.locator("input[name=look][value=materials]").is_checked()
    page.locator("input[name=view][value=street]").check(force=True)
    assert page.locator("input[name=look][value=materials]").is_disabled()
    assert page.locator("input[name=look][value=clay]").is_checked()
    page.locator(f'input[name=light][value="{sun}"]').check(force=True)
    page.locator(f'input[name=after][value="{name}"]').check(force=True)
    assert tone(".both .left") == pytest.approx(expected("as drawn", "street", sun, "clay"), abs=3)
    assert tone(".both .right") == pytest.approx(expected(name, "street", sun, "clay"), abs=3)
    page.locator(f'.enlarge[data-design="{name}"]').click()
    assert page.locator("#enlarged").evaluate("d => d.open")
    assert tone("#enlarged-picture") == pytest.approx(expected(name, "street", sun, "clay"), abs=3)
    page.keyboard.press("ArrowRight")
    assert page.locator("#enlarged-picture").get_attribute("data-design") == subject.designs[3].name
    page.keyboard.press("Escape")
    assert not page.locator("#enlarged").evaluate("d => d.open")


def shot(page):
    """The canvas as an array."""
    text = page.evaluate(
        """() => {
            const from = stage.viewer.canvas;
            const canvas = document.createElement("canvas");
            [canvas.width, canvas.height] = [240, 150];
            const pen = canvas.getContext("2d");
            pen.drawImage(from, 0, 0, 240, 150);
            const data = pen.getImageData(0, 0, 240, 150).data;
            let text = "";
            for (let i = 0; i < data.length; i += 8192)
                text += String.fromCharCode(...data.subarray(i, i + 8192));
            return btoa(text);
        }"""
    )
    return np.frombuffer(base64.b64decode(text), np.uint8).reshape(150, 240, 4)[..., :3].astype(int)


def set_slider(page, name, value):
    page.locator(name).evaluate(
        "(slider, value) => { slider.value = value;"
        " slider.dispatchEvent(new Event('input', {bubbles: true})); }",
        str(value),
    )
    settle(page)


def test_the_model_is_drawn_and_its_shadow_moves_with_the_hour_and_the_day(opened):
    page = opened.page
    first = shot(page)
    assert first.std() > 20  # not blank
    set_slider(page, "#hour", 15 * 60)
    later = shot(page)
    assert (np.abs(later - first).max(axis=2) > 25).mean() > 0.02
    set_slider(page, "#day", 180)
    assert (np.abs(shot(page) - later).max(axis=2) > 25).mean() > 0.02
    words = page.locator("#sun-words").text_content()
    assert re.match(r"Sun \d+\.\d° high in the [NSEW]+, (on|behind) the front\.", words)


def test_designs_and_views_are_switched_in_place(opened, subject):
    page = opened.page
    before = shot(page)
    name = subject.designs[3].name
    page.locator(f'input[name=design][value="{name}"]').check(force=True)
    settle(page)
    assert (np.abs(shot(page) - before).max(axis=2) > 25).mean() > 0.02
    page.locator('input[name=panes][value="2"]').check(force=True)
    settle(page)
    assert page.locator("#pane-names").text_content() == f"As drawnC · {name}"
    page.locator('input[name=panes][value="1"]').check(force=True)
    stage = page.locator("#stage")
    stage.focus()
    settle(page)
    before = shot(page)
    for _ in range(3):
        page.keyboard.press("ArrowRight")
    settle(page)
    assert (np.abs(shot(page) - before).max(axis=2) > 25).mean() > 0.02


def test_a_click_names_the_part(opened):
    page = opened.page
    page.locator("input[name=stand][value=elevation]").click(force=True)
    settle(page)
    at = page.evaluate(
        """() => {
            const [x, y] = stage.viewer.project([0, 0, 8.5]);
            const box = stage.viewer.canvas.getBoundingClientRect();
            return [box.left + x, box.top + y];
        }"""
    )
    assert page.evaluate("([x, y]) => stage.viewer.pick(x, y)?.key", at).split("/")[0] in (
        "house",
        "porch",
    )
    point = page.evaluate("([x, y]) => stage.viewer.unproject(x, y, -3.0)", at)
    assert point == pytest.approx([0.0, -3.0, 8.5], abs=0.05)


def test_a_house_is_changed_in_place(opened):
    page = opened.page
    found = page.evaluate(
        """() => {
            const house = stage.viewer.house("trial");
            const cube = {key: "a/cube", role: "order",
                positions: new Float32Array([0,0,0, 1,0,0, 0,0,1]),
                indices: new Uint32Array([0,1,2])};
            house.update({parts: [cube]});
            const one = [house.keys(), house.bounds()];
            const far = new Float32Array([1,0,0,0, 0,1,0,0, 0,0,1,0, 5,6,7,1]);
            house.update({removed: ["a/cube"], parts: [{...cube, key: "b", matrices: far}]});
            const two = [house.keys(), house.bounds()];
            stage.viewer.forget("trial");
            return [one, two];
        }"""
    )
    assert found[0] == [["a/cube"], [[0, 0, 0], [1, 0, 1]]]
    assert found[1] == [["b"], [[5, 6, 7], [6, 6, 8]]]


@pytest.mark.parametrize("width", WIDTHS)
def test_no_width_scrolls_sideways(opened, width):
    page = opened.page
    page.set_viewport_size({"width": width, "height": 800})
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    wide = page.evaluate(
        "[...document.querySelectorAll('main *')].filter(e => !e.closest('.table') &&"
        f" e.getBoundingClientRect().right > {width} + 1 && e.checkVisibility()"
        ").map(e => e.className || e.tagName)"
    )
    assert wide == []
    page.set_viewport_size({"width": 1000, "height": 760})


def test_axe_finds_no_violation_of_wcag_2_2_aa(opened):
    """axe-core 4.14.1, Deque Systems: rules tagged WCAG 2.0 to 2.2, levels A and AA."""
    page = opened.page
    page.evaluate(AXE.read_text(encoding="utf-8"))
    tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
    for width in (390, 1000):
        page.set_viewport_size({"width": width, "height": 760})
        page.evaluate("for (const each of document.querySelectorAll('details')) each.open = true")
        found = page.evaluate("tags => axe.run({runOnly: tags})", tags)
        assert [(v["id"], v["nodes"][0]["html"][:120]) for v in found["violations"]] == []
        assert len(found["passes"]) > 20


def test_it_prints_on_whole_pages(opened, tmp_path):
    pdfium = pytest.importorskip("pypdfium2")
    path = tmp_path / "page.pdf"
    opened.page.pdf(path=path, prefer_css_page_size=True)
    document = pdfium.PdfDocument(path)
    assert 6 <= len(document) <= 30
    for sheet in document:
        width, height = sheet.get_size()
        assert (width, height) == (pytest.approx(842, abs=1), pytest.approx(595, abs=1))
        ink = 255 - np.asarray(sheet.render(scale=0.5, grayscale=True).to_numpy()).astype(int)
        assert (ink > 60).mean() > 0.002  # no blank page


def test_the_page_s_sun_is_the_site_s_sun(opened, study):
    """The table between its entries, as the page has it, against NREL's algorithm."""
    page, site = opened.page, study.designs[0].site
    zone = ZoneInfo(site.time_zone)
    worst = 0.0
    for day, minute in [
        (0, 615),
        (47, 955),
        (67, 540),
        (68, 540),
        (171, 425),
        (262, 1015),
        (364, 720),
    ]:
        found = np.array(
            page.evaluate(
                """([day, minute]) => {
                    for (const [id, value] of [["day", day], ["hour", minute]]) {
                        document.getElementById(id).value = value;
                        document.getElementById(id).dispatchEvent(
                            new Event("input", {bubbles: true}));
                    }
                    return stage.viewer._sun.direction.toArray();
                }""",
                [day, minute],
            )
        )
        date = datetime(site.year, 1, 1) + timedelta(days=day, minutes=minute)
        when = date.replace(tzinfo=zone).astimezone(UTC)
        sun = site_positions([when], site)
        true = to_house_frame(sun.altitude_deg, sun.azimuth_deg, site.front_azimuth_deg)[0]
        worst = max(worst, float(np.degrees(np.arccos(np.clip(found @ true, -1, 1)))))
    assert worst < 0.1, worst


def test_the_table_of_suns_is_small(study):
    assert sum(len(str(value)) for value in sun_table(study.designs[0].site).values()) < 250_000


def test_while_pictures_come_it_takes_them_in_from_its_own_file_and_keeps_what_was_chosen(
    subject, opened, tmp_path
):
    path = tmp_path / "page.html"
    some = replace(subject, pictures=subject.pictures[:8], coming=4)
    path.write_text(page_html(some), encoding="utf-8")
    with opened.page.context.browser.new_page() as page:
        said, asked = [], []
        page.on("pageerror", lambda fault: said.append(str(fault)))
        page.on("request", lambda request: asked.append(request.url))
        page.goto(path.as_uri())
        assert page.text_content("#coming").startswith("4 pictures are still being made")
        page.locator("#choices input[name=look][value=clay]").dispatch_event("click")
        path.write_text(page_html(replace(some, coming=2)), encoding="utf-8")
        page.wait_for_selector('[data-coming="2"]', timeout=60_000)
        assert page.locator("#choices input[name=look][value=clay]").is_checked()
        assert said == []
        assert set(asked) - {path.as_uri()} == {
            a for a in asked if a.startswith(("data:", "blob:"))
        }


def test_a_finger_moves_the_divider_and_turns_the_model(opened):
    """Touch as Chromium itself sends it, in a window of a telephone's size."""
    page = opened.page.context.browser.new_context(
        viewport={"width": 390, "height": 800}, has_touch=True, is_mobile=True
    ).new_page()
    page.set_default_timeout(PATIENCE_MS)
    page.goto(opened.path.as_uri())
    page.wait_for_function(
        "document.getElementById('stage')?.dataset.drawn !== undefined && stage.viewer"
    )
    settle(page)
    hand = page.context.new_cdp_session(page)

    def drag(selector, *shares):
        page.locator(selector).scroll_into_view_if_needed()
        box = page.locator(selector).bounding_box()
        kind = "touchStart"
        for across, down in shares:
            point = {
                "x": box["x"] + across * box["width"],
                "y": box["y"] + down * box["height"],
            }
            hand.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [point]})
            kind = "touchMove"
        hand.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})

    drag(".both", (0.5, 0.5), (0.62, 0.5), (0.7, 0.5), (0.8, 0.5))
    assert float(page.locator("#divider").input_value()) == pytest.approx(80.0, abs=3.0)
    before = shot(page)
    drag("#stage canvas", (0.5, 0.5), (0.4, 0.5), (0.3, 0.5), (0.2, 0.5))
    settle(page)
    assert (np.abs(shot(page) - before).max(axis=2) > 25).mean() > 0.02
    page.context.close()


def test_designs_are_lettered_as_on_the_sheets(opened, subject):
    page = opened.page
    words = page.locator("#changed h3").all_text_contents()
    assert words == [
        f"{letter} · {design.name}"
        for letter, design in zip("ABCD", subject.designs[1:], strict=True)
    ]
    assert page.locator("#figures thead th").all_text_contents()[:2] == ["As drawn", words[0]]


def test_blank_sky_over_a_low_house_is_left_away(subject, tmp_path):
    path = tmp_path / "wide.png"
    Image.fromarray(np.full((100, 160, 3), 90, dtype=np.uint8)).save(path)
    wide = [replace(subject.pictures[0], file=path, sky=share) for share in (0.0, 0.3)]
    sizes = [Image.open(io.BytesIO(data)).size for data in pressed(wide)]
    assert sizes == [(160, 100), (160, 70)]

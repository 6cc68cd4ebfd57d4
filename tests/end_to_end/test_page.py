"""The page at the bench in headless Chromium: a whole session of work on it, as a woodworker has one."""

import os
import re
import signal
import subprocess
import sys
import threading
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest

DEMOS = sorted((Path(__file__).parents[2] / "demos").glob("*.toml"))
PROGRAM = "import sys; from underbag.app.command import main; sys.exit(main())"
PANEL = (
    'title = "Shelf"\n\n[panel]\nlength = 600  # as measured\nwidth = 300\n\n'
    "[bag]\nwidth = 700\nlength = 1300\n\n[valve]\nfrom_closed_end = 500\nfrom_left_seam = 350\n"
)
DESK, TABLET, PHONE = (1440, 900), (1180, 820), (390, 844)


@dataclass
class Bench:
    """A program that serves the page, and a browser's page on it."""

    process: Any
    address: str
    folder: Path
    page: Any = None
    said: list[str] = field(default_factory=list)

    def file(self) -> str:
        return (self.folder / "work.toml").read_text(encoding="utf-8")

    def end(self) -> str:
        """End the program as Ctrl-C does; gives what it says."""
        self.process.send_signal(signal.SIGINT)
        return str(self.process.communicate(timeout=20)[1])

    def revision(self) -> int:
        return int(self.page.locator("html").get_attribute("data-revision"))

    def after(self, act: Any) -> None:
        """Do something and wait until the page was told of a newer state."""
        before = self.revision()
        act()
        self.page.wait_for_selector(f'html:not([data-revision="{before}"])', state="attached")

    def write(self, key: str, text: str) -> None:
        box = self.page.locator(f'[id="field-{key}"]')
        if not box.is_visible():
            group = key.partition(".")[0] if "." in key else "job"
            self.page.locator(f"#group-{group} > summary").click()
        self.after(lambda: (box.fill(text), box.press("Tab")))

    def press(self, name: str) -> None:
        self.after(lambda: self.page.get_by_role("button", name=name, exact=True).click())

    def open(self, text: str) -> None:
        file = {"name": "opened.toml", "mimeType": "application/toml", "buffer": text.encode()}
        self.after(lambda: self.page.locator("#file").set_input_files(file))

    def says(self, key: str) -> str:
        return str(self.page.locator(f'[id="says-{key}"]').text_content())


def started(folder: Path, text: str | None) -> Bench:
    """Program on a file of its own, or on none, listening."""
    if text is not None:
        (folder / "work.toml").write_text(text, encoding="utf-8")
    named = ["work.toml"] if text is not None else []
    process = subprocess.Popen(
        [sys.executable, "-c", PROGRAM, "open", *named, "--no-browser"],
        cwd=folder,
        stderr=subprocess.PIPE,
        text=True,
    )
    first = process.stderr.readline()
    found = re.search(r"http://127\.0\.0\.1:[0-9]+/", first)
    assert found, first
    return Bench(process=process, address=found.group(), folder=folder)


def looked_at(bench: Bench, browser: Any, size: tuple[int, int] = DESK, **more: Any) -> Any:
    """Open a page of the bench and wait for its first picture."""
    context = browser.new_context(
        viewport={"width": size[0], "height": size[1]}, reduced_motion="reduce", accept_downloads=True, **more
    )
    page = context.new_page()
    page.set_default_timeout(20_000)
    page.on("console", lambda message: bench.said.append(message.text))
    page.on("pageerror", lambda fault: bench.said.append(str(fault)))
    page.on("dialog", lambda dialog: dialog.accept())
    page.goto(bench.address)
    page.wait_for_selector("html[data-revision]", state="attached")
    return page


@pytest.fixture
def bench_of(chromium: Any, tmp_path: Path) -> Iterator[Any]:
    """Give a function that opens the page on a text; in the end no console has complained."""
    opened: list[Bench] = []

    def open_bench(text: str | None, size: tuple[int, int] = DESK, browser: Any = None, **more: Any) -> Bench:
        folder = tmp_path / str(len(opened))
        folder.mkdir()
        bench = started(folder, text)
        opened.append(bench)
        bench.page = looked_at(bench, browser or chromium, size, **more)
        return bench

    yield open_bench
    for bench in opened:
        if bench.page is not None:
            bench.page.context.close()
        if bench.process.poll() is None:
            bench.process.kill()
            bench.process.communicate()
        assert bench.said == []


@pytest.fixture
def own_bench(bench_of: Any) -> Bench:
    """Give a program of its own: for what ends it, or writes its file."""
    found: Bench = bench_of(PANEL)
    found.page.wait_for_selector("html[data-ready]", state="attached")
    return found


@pytest.fixture(scope="module")
def running(chromium: Any, tmp_path_factory: Any) -> Iterator[Bench]:
    """Give one program with its page for many tests: to start it takes longer than most of them."""
    found = started(tmp_path_factory.mktemp("bench"), PANEL)
    found.page = looked_at(found, chromium)
    yield found
    found.page.context.close()
    found.process.kill()
    found.process.communicate()


@pytest.fixture
def bench(running: Bench) -> Iterator[Bench]:
    """Give the page anew, with the panel opened as another document on the desk."""
    running.page.reload()
    running.page.wait_for_selector("html[data-ready]", state="attached")
    running.open(PANEL)
    yield running
    said, running.said = running.said, []
    assert said == []


def title_of(path: Path) -> str:
    return re.search(r'^title = "(.*)"', path.read_text(encoding="utf-8"), re.MULTILINE).group(1)


def test_each_demo_opens_from_the_page_and_undo_brings_the_former_back(bench: Bench) -> None:
    for path in DEMOS:
        bench.page.get_by_role("button", name="Demos", exact=True).click()
        bench.after(lambda: bench.page.locator(f'[data-demo="{path.stem}"]').click())  # noqa: B023
        assert bench.page.locator("h1").text_content() == title_of(path)
        assert bench.page.locator(".layers li").count() > 8
    for _ in DEMOS:
        bench.press("Undo")
    assert bench.page.locator("h1").text_content() == "Shelf"
    assert bench.file() == PANEL


def test_a_size_in_inches_and_fractions_changes_tables_and_picture_and_is_saved_in_place(
    own_bench: Bench,
) -> None:
    bench = own_bench
    drawn = int(bench.page.locator("html").get_attribute("data-ready"))
    bench.write("panel.length", "23 5/8 in")
    # 23 5/8 in by definition of the inch: 23.625 × 25.4 mm
    assert bench.says("panel.length") == '600.1 mm (23 5/8")'
    bench.page.wait_for_selector(f'html:not([data-ready="{drawn}"])', state="attached")
    assert "changes not saved" in bench.page.locator("#where").text_content()
    bench.press("Save")
    assert bench.file() == PANEL.replace("600 ", '"23 5/8 in" ')


def test_a_default_is_shown_as_one_and_comes_back_when_the_field_is_emptied(bench: Bench) -> None:
    box = bench.page.locator('[id="field-substrate.thickness"]')
    assert box.input_value() == ""
    before = box.get_attribute("placeholder")
    assert before.startswith("18 mm")
    bench.write("substrate.thickness", "25")
    assert box.input_value() == "25"
    bench.write("substrate.thickness", "")
    assert box.get_attribute("placeholder") == before
    assert bench.says("substrate.thickness").startswith("by default")


def test_a_value_that_cannot_be_keeps_the_last_picture_and_says_which_field(bench: Bench) -> None:
    size = bench.page.locator("#size-list").text_content()
    bench.write("panel.length", "3 mm")
    wrong = bench.page.locator('[id="wrong-panel.length"]').text_content()
    assert "10 mm" in wrong
    assert bench.page.locator('[id="field-panel.length"]').get_attribute("aria-invalid") == "true"
    assert bench.page.locator("#size-list").text_content() == size
    assert "length" in bench.page.locator("#said").text_content()
    # it waits on the server: a reload keeps it
    bench.page.reload()
    bench.page.wait_for_selector("html[data-revision]", state="attached")
    assert bench.page.locator('[id="field-panel.length"]').input_value() == "3 mm"
    bench.write("panel.length", "640")
    assert bench.page.locator('[id="wrong-panel.length"]').text_content() == ""


def test_two_sizes_of_a_bend_come_one_after_the_other(bench: Bench) -> None:
    bench.open("[panel]\nwidth = 150\nlength = 500\n")
    bench.write("bend.radius", "400")
    assert "two of" in bench.page.locator('[id="wrong-bend.radius"]').text_content()
    bench.write("bend.rise", "60")
    bench.write("panel.length", "")
    assert bench.page.locator(".bad").count() == 0
    assert bench.page.locator("#layer-list").text_content().count("form") >= 1


def test_undo_and_redo_go_word_by_word_not_letter_by_letter(bench: Bench) -> None:
    says = bench.page.locator('[id="says-panel.width"]')
    bench.write("panel.length", "610")
    box = bench.page.locator('[id="field-panel.width"]')
    box.click()
    box.press("Control+a")
    # a width of 4 mm can't be: what waits on the way is no step either
    for typed, told in (("4", ""), ("41", "41 mm"), ("412", "412 mm")):
        bench.after(lambda: box.press(typed[-1]))  # noqa: B023
        assert box.input_value() == typed
        assert says.text_content().startswith(told)
    bench.press("Undo")
    assert bench.page.locator('[id="field-panel.width"]').input_value() == "300"
    assert bench.page.locator('[id="field-panel.length"]').input_value() == "610"
    bench.press("Redo")
    assert bench.page.locator('[id="field-panel.width"]').input_value() == "412"


def test_a_flat_panel_starts_from_length_width_and_thickness(bench: Bench) -> None:
    bench.page.get_by_role("button", name="New panel").click()
    bench.page.get_by_label("Length", exact=True).fill("31 1/2 in")
    bench.page.get_by_label("Width", exact=True).fill("400")
    bench.page.get_by_label("Thickness of the core").fill("3/4 in")
    bench.press("Lay it up")
    assert bench.says("panel.length").startswith("800.1 mm")
    assert bench.says("substrate.thickness").startswith("19.1 mm")


def test_a_reload_loses_nothing(bench: Bench) -> None:
    bench.write("panel.width", "333")
    bench.page.reload()
    bench.page.wait_for_selector("html[data-ready]", state="attached")
    assert bench.page.locator('[id="field-panel.width"]').input_value() == "333"
    bench.press("Undo")
    assert bench.page.locator('[id="field-panel.width"]').input_value() == "300"


def test_a_second_tab_follows_and_cannot_overwrite_unseen(bench: Bench) -> None:
    other = bench.page.context.new_page()
    other.goto(bench.address)
    other.wait_for_selector("html[data-revision]", state="attached")
    before = other.locator("html").get_attribute("data-revision")
    bench.write("panel.width", "333")
    other.wait_for_selector(f'html:not([data-revision="{before}"])', state="attached")
    assert other.locator('[id="field-panel.width"]').input_value() == "333"


def test_a_check_leads_to_its_place_and_to_the_number(bench: Bench) -> None:
    bench.write("bag.width", "380")
    row = bench.page.locator("#check-list li.stop").first
    assert row.is_visible()
    row.get_by_role("button").click()
    assert bench.page.locator(".pin").is_visible()
    assert bench.page.evaluate("document.activeElement.id").startswith("field-")
    assert "do not press" in bench.page.locator("#verdict").text_content()


def test_the_valve_is_dragged_with_its_clearances_live(bench: Bench) -> None:
    drawn = bench.page.locator("html").get_attribute("data-ready")
    bench.page.get_by_role("button", name="Above", exact=True).click()
    bench.page.wait_for_selector(f'html:not([data-ready="{drawn}"])', state="attached")
    grip = bench.page.locator(".grip")
    rooms = bench.page.locator("#rooms")
    before = rooms.text_content()
    # waits until the grip stands still in the new view
    grip.hover()
    box = grip.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    bench.page.mouse.move(x, y)
    bench.page.mouse.down()
    bench.page.mouse.move(x + 30, y, steps=3)
    bench.page.wait_for_function(
        "before => document.getElementById('rooms').textContent !== before", arg=before
    )
    moved = bench.page.locator("#valve-end").input_value()
    bench.after(bench.page.mouse.up)
    # from above, 30 pixels to the right are 30 pixels' worth of millimetres away from the closed end
    pixel = float(bench.page.locator("html").get_attribute("data-pixel"))
    assert float(moved) == pytest.approx(500 + 30 * pixel, rel=0.02)
    assert bench.page.locator('[id="field-valve.from_closed_end"]').input_value() == f"{float(moved):g} mm"
    bench.after(lambda: grip.press("ArrowUp"))
    assert float(bench.page.locator("#valve-left").input_value()) == pytest.approx(355.0, abs=2.0)


def test_sliders_ask_the_server_for_nothing(bench: Bench) -> None:
    bench.page.wait_for_timeout(800)
    asked: list[str] = []
    bench.page.on("request", lambda request: asked.append(request.url))
    for key in ("spread", "thick"):
        bench.page.locator(f"#{key}").fill("9")
    bench.page.get_by_label("along the panel").check()
    bench.page.locator("#cut").fill("20")
    bench.page.wait_for_timeout(300)
    assert asked == []
    assert "9 ×" in bench.page.locator("#factor").text_content()


def choose_papers(page: Any, *names: str) -> None:
    page.get_by_role("button", name="Papers", exact=True).click()
    for box in page.locator("#paper-kinds input").all():
        box.set_checked(box.get_attribute("value") in names)


def test_step_and_pdf_are_made_while_the_page_stays_live_and_can_be_taken(bench: Bench) -> None:
    page = bench.page
    choose_papers(page, "step", "pdf")
    page.get_by_role("button", name="Make them").click()
    page.wait_for_selector('html[data-papers="working"]', state="attached")
    page.get_by_role("button", name="Close", exact=True).click()
    bench.write("panel.width", "320")
    page.get_by_role("button", name="Papers", exact=True).click()
    page.wait_for_selector('html[data-papers="done"]', state="attached", timeout=90_000)
    for ending, begins in ((".step", b"ISO-10303-21;"), (".pdf", b"%PDF-")):
        with page.expect_download() as taken:
            page.locator("#paper-files button", has_text=ending).first.click()
        assert taken.value.suggested_filename.endswith(ending)
        assert Path(taken.value.path()).read_bytes().startswith(begins)


def test_papers_can_be_stopped(bench: Bench) -> None:
    page = bench.page
    choose_papers(page, "step")
    page.get_by_role("button", name="Make them").click()
    page.get_by_role("button", name="Stop", exact=True).click()
    page.wait_for_selector('html[data-papers="stopped"]', state="attached")
    assert page.locator("#paper-files li").count() == 0


def test_a_maker_that_crashes_is_a_message_and_the_page_goes_on(bench: Bench) -> None:
    page = bench.page
    choose_papers(page, "step")
    page.get_by_role("button", name="Make them").click()
    page.wait_for_selector('html[data-papers="working"]', state="attached")
    children = Path(f"/proc/{bench.process.pid}/task")
    maker = " ".join(path.read_text() for path in children.glob("*/children")).split()
    os.kill(int(maker[0]), signal.SIGKILL)
    page.wait_for_selector('html[data-papers="failed"]', state="attached")
    assert page.locator("#paper-says").text_content().startswith("It could not be made")
    page.get_by_role("button", name="Close", exact=True).click()
    bench.write("panel.width", "321")
    assert "321" in page.locator("#size-list").text_content()


def test_ctrl_c_keeps_unsaved_work_beside_the_file(own_bench: Bench) -> None:
    bench = own_bench
    bench.write("panel.width", "345")
    bench.page.context.close()
    bench.page = None
    said = bench.end()
    kept = bench.folder / "work-unsaved-1.toml"
    assert str(kept) in said
    assert kept.read_text(encoding="utf-8") == PANEL.replace("width = 300", "width = 345")
    assert bench.file() == PANEL


def test_ctrl_c_leaves_nothing_behind_where_all_is_saved(own_bench: Bench) -> None:
    bench = own_bench
    bench.page.context.close()
    bench.page = None
    bench.end()
    assert [path.name for path in bench.folder.iterdir()] == ["work.toml"]
    assert bench.process.returncode == 0


def test_a_file_that_another_program_changed_is_not_overwritten(own_bench: Bench) -> None:
    bench = own_bench
    bench.write("panel.width", "345")
    (bench.folder / "work.toml").write_text(PANEL + "# by hand\n", encoding="utf-8")
    bench.page.get_by_role("button", name="Save", exact=True).click()
    bench.page.wait_for_timeout(500)
    assert "another program" in bench.page.locator("#said").text_content()
    assert bench.file().endswith("# by hand\n")
    # the browser itself tells of the refusal
    bench.said[:] = [text for text in bench.said if "status of 422" not in text]


def test_a_lost_screen_leaves_numbers_checks_and_drawn_views(own_bench: Bench) -> None:
    bench = own_bench
    lose = "document.querySelector('canvas').getContext('webgl2').getExtension('WEBGL_lose_context').loseContext()"
    bench.page.evaluate(lose)
    bench.page.wait_for_selector("#views figure svg", state="attached")
    assert bench.page.locator(".stage").is_hidden()
    assert "graphics" in bench.page.locator("#words").text_content()
    bench.write("panel.width", "340")
    assert "340" in bench.page.locator("#size-list").text_content()


def test_without_webgl_numbers_checks_and_drawn_views_stand(bench_of: Any, launch: Any) -> None:
    bench = bench_of(PANEL, browser=launch("--disable-3d-apis"))
    bench.page.wait_for_selector("#views figure svg", state="attached")
    assert bench.page.locator("#check-list").text_content() != ""
    bench.write("panel.width", "340")
    assert "340" in bench.page.locator("#size-list").text_content()


def test_markup_in_a_title_is_shown_as_text(bench: Bench) -> None:
    hostile = "<img src=x onerror=alert(1)></title><script>alert(2)</script>"
    bench.write("title", hostile)
    assert bench.page.locator("h1").text_content() == hostile
    assert bench.page.locator("h1 img, body img").count() == 0


def reaches(bench: Bench, *queries: str) -> list[dict[str, float]]:
    """Boxes of elements on the page: x, y, width, height."""
    return [bench.page.locator(query).first.bounding_box() for query in queries]


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_nothing_is_wider_than_the_screen(bench: Bench, scheme: str) -> None:
    bench.page.emulate_media(color_scheme=scheme)
    try:
        for width, height in (DESK, TABLET, PHONE):
            bench.page.set_viewport_size({"width": width, "height": height})
            assert bench.page.evaluate("document.documentElement.scrollWidth") <= width
    finally:
        bench.page.set_viewport_size({"width": DESK[0], "height": DESK[1]})
        bench.page.emulate_media(color_scheme="light")


def test_flat_blanks_and_checks_stand_beside_the_picture(bench: Bench) -> None:
    bench.page.wait_for_selector(".blanks li")
    try:
        for width, height in (DESK, TABLET):
            bench.page.set_viewport_size({"width": width, "height": height})
            frame, blanks, checks = reaches(bench, ".frame", ".blanks", "#checks")
            assert blanks["x"] >= frame["x"] + frame["width"]
            assert checks["x"] >= frame["x"] + frame["width"] or checks["x"] + checks["width"] <= frame["x"]
            for one in (blanks, checks):
                assert one["y"] < frame["y"] + frame["height"]
                assert one["y"] + one["height"] > frame["y"]
    finally:
        bench.page.set_viewport_size({"width": DESK[0], "height": DESK[1]})


def test_blanks_lie_flat_at_one_scale(bench: Bench) -> None:
    bench.page.wait_for_selector(".blanks li")
    rows = bench.page.locator(".blanks li").all()
    shares = []
    for row in rows[:-1]:  # the bag comes last, at a scale of its own
        length = float(re.match(r"([0-9.]+) ×", row.locator("span").text_content()).group(1))
        shares.append(row.locator("svg").bounding_box()["width"] / length)
    # a line's width around each, and whole pixels
    assert max(shares) == pytest.approx(min(shares), rel=0.02)
    assert "own" in rows[-1].text_content()


def test_sizes_in_the_picture_are_whole(bench: Bench) -> None:
    bench.page.wait_for_selector(".over text", state="attached")
    (frame,) = reaches(bench, ".frame")
    texts = bench.page.locator(".over text").all()
    assert {text.text_content() for text in texts} >= {"panel length 600 mm", "panel width 300 mm"}
    boxes = [text.bounding_box() for text in texts]
    for box in boxes:
        assert frame["x"] <= box["x"]
        assert box["x"] + box["width"] <= frame["x"] + frame["width"]
    for one, other in ((a, b) for i, a in enumerate(boxes) for b in boxes[i + 1 :]):
        apart_y = abs(one["y"] - other["y"]) >= 14.0
        apart_x = one["x"] + one["width"] <= other["x"] or other["x"] + other["width"] <= one["x"]
        assert apart_x or apart_y


def test_what_is_pointed_at_tells_name_material_blank_and_height(bench: Bench) -> None:
    page = bench.page
    page.get_by_role("button", name="Above", exact=True).click()
    for name in ("valve", "upper film"):
        page.locator(".layers li", has_text=name).first.locator("input").uncheck()
    (frame,) = reaches(bench, ".frame")
    page.mouse.move(frame["x"] + frame["width"] / 2, frame["y"] + frame["height"] / 2)
    page.locator("#tip", has_text="breather").wait_for()
    said = page.locator("#tip").text_content()
    # the breather lies on the caul: everything below it, from the platen upward
    assert re.search(r"breather, .*[0-9]+ × [0-9]+ mm .*, [0-9.]+ mm above the platen$", said)


def test_the_flat_panel_shows_a_platen_and_the_bent_one_a_form(bench: Bench) -> None:
    assert bench.page.locator("#group-platen").is_visible()
    assert bench.page.locator("#group-form").is_hidden()
    bench.open("[panel]\nwidth = 150\n[bend]\nradius = 400\nrise = 60\n")
    assert bench.page.locator("#group-platen").is_hidden()
    assert bench.page.locator("#group-form").is_visible()


def test_a_size_may_be_written_as_the_page_shows_it(bench: Bench) -> None:
    bench.write("panel.length", '800.1 mm (31 1/2")')
    assert bench.says("panel.length") == '800.1 mm (31 1/2")'
    assert bench.page.locator(".bad").count() == 0


def test_the_page_works_by_keyboard_alone(bench: Bench) -> None:
    page = bench.page
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "To the numbers"
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    assert page.evaluate("document.querySelector('#numbers').contains(document.activeElement)")
    page.locator("canvas").focus()
    drawn = page.locator("html").get_attribute("data-ready")
    page.keyboard.press("ArrowLeft")
    page.wait_for_selector(f'html:not([data-ready="{drawn}"])', state="attached")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.tagName") != "CANVAS"


AXE = os.environ.get("UNDERBAG_AXE", "")


@pytest.mark.skipif(not AXE, reason="UNDERBAG_AXE names no axe.min.js")
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_no_serious_hindrance(bench_of: Any, scheme: str) -> None:
    bench = bench_of(PANEL.replace("width = 700", "width = 380"), color_scheme=scheme)
    page = bench.page
    page.wait_for_timeout(1000)
    page.evaluate(Path(AXE).read_text(encoding="utf-8"))
    for act in (None, "details", "start", "demos", "papers"):
        if act == "details":
            page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
        elif act:
            page.locator(f"header [data-do={act}]").click()
        found = page.evaluate("axe.run().then(({ violations }) => violations)")
        serious = [
            (act, one["id"], one["nodes"][0]["html"][:200], one["nodes"][0]["failureSummary"][:200])
            for one in found
            if one["impact"] in ("serious", "critical")
        ]
        assert serious == []
        if act in ("start", "demos", "papers"):
            page.keyboard.press("Escape")


def test_the_program_hears_a_stop_from_elsewhere(tmp_path: Path) -> None:
    bench = started(tmp_path, PANEL)
    ended = threading.Timer(15, bench.process.kill)
    ended.start()
    bench.process.send_signal(signal.SIGTERM)
    bench.process.communicate()
    ended.cancel()
    assert [path.name for path in tmp_path.iterdir()] == ["work.toml"]

"""From a changed number to a redrawn picture: measured in headless Chromium, for a bent stack of twelve layers.

Run it alone on a machine at rest: ``python tests/benchmarks/page_speed.py``. The status is 1 where the median of
model and transfer together is over 40 ms, or a drawing takes over 1.3 times a bare redraw of the same triangles.
Between two changes the browser rests, as it does while a person types: without a graphics card it goes on painting
the last picture on every core for some time, and the next answer would wait for that. The time of the processor that
the server spent on a change is told beside the clock's: on a machine that is not at rest only that says much.
"""

import re
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

from playwright.sync_api import sync_playwright

ROUNDS = 25
REST_MS = 150
MODEL_AND_TRANSFER_MS, DRAW_RATIO = 40.0, 1.3
PROGRAM = "import sys; from underbag.app.command import main; sys.exit(main())"
FLAGS = ["--no-sandbox", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"]
# back and face, three sheets with four glue lines, release on both sides, paper and breather: thirteen layers
STACK = """
title = "Twelve layers"
[panel]
width = 200
[bend]
chord = 500
rise = 60
[substrate]
thickness = 3
laminations = 3
"""

MEASURE = """async ([key, rounds, rest]) => {
  const { readParts } = await import("/picture/parts.js");
  const { createViewer } = await import("/picture/viewer.js");
  const canvas = document.createElement("canvas");
  canvas.width = 900; canvas.height = 600;
  document.querySelector(".frame").append(canvas);
  const viewer = createViewer(canvas);
  const gl = canvas.getContext("webgl2");
  const fence = () => gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, new Uint8Array(4));
  const token = document.querySelector("meta[name=token]").content;
  const rows = [];
  let revision = Number(document.documentElement.dataset.revision);
  let triangles = 0;
  for (let i = 0; i < rounds; i += 1) {
    const begun = performance.now();
    const answer = await fetch("/desk/change", {
      method: "POST",
      headers: { "content-type": "application/json", "x-underbag-token": token },
      body: JSON.stringify({ revision, known: "", changes: { [key]: String(200 + i) } }),
    });
    const data = await answer.arrayBuffer();
    const length = new DataView(data).getUint32(0, true);
    revision = JSON.parse(new TextDecoder().decode(new Uint8Array(data, 4, length))).revision;
    const parts = readParts(data.slice(4 + length));
    const there = performance.now();
    viewer.setScene(parts);
    viewer.drawNow();
    fence();
    const drawn = performance.now();
    viewer.drawNow();
    fence();
    const again = performance.now();
    triangles = parts.reduce((sum, part) => sum + part.triangles.length / 3, 0);
    const [model, spent] = [...answer.headers.get("server-timing").matchAll(/dur=([0-9.]+)/g)].map((found) => Number(found[1]));
    rows.push([model, spent, there - begun - model, drawn - there, again - drawn]);
    await new Promise((done) => { setTimeout(done, rest); });
  }
  return { rows: rows.slice(3), triangles };
}"""


def main() -> int:
    """Measure, print the medians, and give the status."""
    with tempfile.TemporaryDirectory() as folder:
        Path(folder, "stack.toml").write_text(STACK, encoding="utf-8")
        server = subprocess.Popen(
            [sys.executable, "-c", PROGRAM, "open", "stack.toml", "--no-browser"],
            cwd=folder,
            stderr=subprocess.PIPE,
            text=True,
        )
        try:
            assert server.stderr is not None
            found = re.search(r"http://\S+", server.stderr.readline())
            assert found
            measured = _measured(found.group())
        finally:
            server.kill()
            server.communicate()
    model, spent, transfer, draw, bare = (
        statistics.median(column) for column in zip(*measured["rows"], strict=True)
    )
    ratio = draw / bare
    sys.stdout.write(
        f"{measured['triangles']:.0f} triangles, medians of {len(measured['rows'])} changes, ms\n"
        f"model {model:.1f} (of the processor {spent:.1f})  transfer {transfer:.1f}  draw {draw:.1f}  bare redraw {bare:.1f}\n"
        f"model and transfer {model + transfer:.1f} (limit {MODEL_AND_TRANSFER_MS:g})  "
        f"draw / bare redraw {ratio:.2f} (limit {DRAW_RATIO:g})\n"
    )
    return 0 if model + transfer <= MODEL_AND_TRANSFER_MS and ratio <= DRAW_RATIO else 1


def _measured(address: str) -> Any:
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path="/usr/bin/chromium", args=FLAGS)
        page = browser.new_page(viewport={"width": 1440, "height": 900})
        page.goto(address)
        page.wait_for_selector("html[data-ready]", state="attached")
        page.wait_for_timeout(1500)
        found = page.evaluate(MEASURE, ["panel.width", ROUNDS, REST_MS])
        browser.close()
    return found


if __name__ == "__main__":
    sys.exit(main())

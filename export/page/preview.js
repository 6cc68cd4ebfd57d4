// The offline preview: puts the living picture into the place of the drawn views, and ties the controls to it.

import { bindButtons, bindCut, bindPointing, bindRows, bindSliders, byId } from "./controls.js";
import { unpack } from "./parts.js";
import { createViewer } from "./viewer.js";

const root = document.documentElement;

function show(live, words = "") {
  root.classList.toggle("live", live);
  document.querySelector(".stage").hidden = !live;
  byId("words").textContent = words;
  byId("words").hidden = live;
}

async function start() {
  let parts;
  let viewer;
  show(true);
  try {
    parts = await unpack(byId("parts").textContent);
    viewer = createViewer(document.querySelector("canvas"), { labels: document.querySelector(".labels") });
  } catch (fault) {
    show(false, `This browser can't show the picture that turns (${fault.message}) The drawn views show the same stack.`);
    root.dataset.picture = "none";
    return;
  }
  const partsOf = () => parts;
  viewer.on("draw", ({ count, pixel }) => Object.assign(root.dataset, { ready: count, pixel: pixel.toPrecision(6) }));
  viewer.on("lost", () => show(false, "The graphics of this computer stopped. The drawn views show the same stack."));
  viewer.on("restored", () => show(true));
  bindButtons(viewer);
  bindRows(viewer);
  bindPointing(viewer, partsOf);
  bindCut(viewer, partsOf);
  bindSliders(viewer, partsOf, byId("parts").dataset.thin);
  viewer.setScene(parts);
  viewer.setView("corner");
}

start();

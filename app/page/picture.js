// The picture on the page: the viewer with its controls, or the drawn views where it can't be shown.

import { all, bindButtons, bindCut, bindPointing, bindRows, bindSliders, byId } from "/picture/controls.js";
import { createViewer } from "/picture/viewer.js";
import { put } from "./make.js";
import { createOver } from "./over.js";
import { plain } from "./talk.js";

const root = document.documentElement;
const LOST = "The graphics of this computer stopped. The drawn views show the same stack.";

function show(live, words = "") {
  root.classList.toggle("live", live);
  document.querySelector(".stage").hidden = !live;
  byId("words").textContent = words;
  byId("words").hidden = live;
}

async function showViews() {
  try {
    put(byId("views"), (await plain("/desk/views")).html);
    root.dataset.views = "drawn";
  } catch {
    // what does not answer has said so already
  }
}

// Without WebGL everything but the living picture stays.
function withoutPicture(words) {
  show(false, words);
  root.dataset.picture = "none";
  return { setParts() {}, update() { showViews(); }, rows() {}, show() {} };
}

export function createPicture(valve) {
  const canvas = document.querySelector("canvas");
  let viewer;
  show(true);
  try {
    viewer = createViewer(canvas, { labels: document.querySelector(".labels") });
  } catch (fault) {
    return withoutPicture(`This browser can't show the picture that turns (${fault.message}) The drawn views show the same stack.`);
  }
  let [parts, fitCut, fitSliders] = [[], null, null];
  const partsOf = () => parts;
  const over = createOver(document.querySelector(".frame"), viewer, valve);
  viewer.on("draw", ({ count, pixel }) => Object.assign(root.dataset, { ready: count, pixel: pixel.toPrecision(6) }));
  viewer.on("lost", () => { show(false, LOST); showViews(); });
  viewer.on("restored", () => { show(true); put(byId("views"), ""); });
  bindButtons(viewer);
  bindPointing(viewer, partsOf);

  function handle(owned) {
    const part = parts.find(({ key }) => key === "valve");
    if (!owned || !part) return null;
    const [low, size] = [part.low, part.size];
    return { point: [low[0] + size[0] / 2, low[1] + size[1] / 2, low[2] + size[2]], lift: part.lift };
  }

  return {
    setParts(next) {
      const first = !parts.length;
      parts = next;
      viewer.setScene(parts);
      if (first) {
        fitCut = bindCut(viewer, partsOf);
        fitSliders = bindSliders(viewer, partsOf, byId("thin").dataset.thin);
        viewer.setView("corner");
      } else {
        fitCut();
        fitSliders();
      }
    },
    update(state) {
      over.setPlace(null);
      over.setSizes(state.dimensions);
      over.setValve(handle(state.valve?.owned));
      if (!root.classList.contains("live")) showViews();
    },
    // The list of layers was written anew: what was hidden stays so.
    rows(hidden) {
      all(".layers input").forEach((box) => { box.checked = !hidden.has(box.dataset.key); });
      bindRows(viewer);
    },
    show(place) {
      const part = place && parts.find(({ key }) => key === place.part);
      viewer.setMark(part ? place.part : null);
      over.setPlace(place ? { point: place.point, lift: part?.lift ?? 0 } : null);
    },
  };
}

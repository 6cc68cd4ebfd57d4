// The viewer: the parts of a layup as a picture that can be turned, spread, cut and pointed at.
// One narrow interface over bare WebGL 2; it draws on demand only and asks nobody for anything.

import { VIEWS, axesOf, createCamera, dot, frame, lensOf, project, slide } from "./camera.js";
import { listen } from "./gestures.js";
import { createLabels } from "./labels.js";
import { createPainter } from "./paint.js";
import { sectionLines } from "./section.js";

const DEEPEST = Math.PI / 2;
const MARK = [31, 111, 150];

// createViewer(canvas, { labels, mark }) throws where the browser gives no WebGL 2.
//   labels: an element over the canvas for the labels; mark: colour of a marked part's outline.
// It gives back
//   setScene(parts)            parts as unpack() and readParts() of parts.js make them; visibility, cut and view stay
//   setSpread(mm)              gap between neighbouring layers
//   setCut({ axis, at })       plane across "x" or "y" at mm from the middle, or null; the side nearer the eye goes
//   setVisible(key, shown), setMark(key or null), setThickness(factor)
//   setView("corner", "front", "end" or "above"), fit(), turn(dx, dy) in rad, zoom(share), toggleLens()
//   pick(x, y)                 key of the part under a CSS pixel, or null
//   on(event, answer)          draw { count, pixel: mm to a CSS pixel }, pick (key or null), hover { x, y }, view (name
//                              or ""), lens (true for perspective), lost, restored
//   drawNow(), dispose()
export function createViewer(canvas, options = {}) {
  const gl = canvas.getContext("webgl2", { alpha: true, antialias: true, stencil: true });
  if (!gl) throw new Error("This browser gives no WebGL 2.");
  const camera = createCamera();
  const labels = options.labels ? createLabels(options.labels) : null;
  const answers = new Map();
  const hidden = new Set();
  const state = { gap: 0, cut: null, factor: 1, mark: null, held: false, drawn: 0, lost: false };
  let painter = createPainter(gl);
  let parts = [];
  let meshes = new Map();
  let waiting = 0;
  let cutStale = true;
  let placements = new Map(); // by key: the corners as spread and thickened, and their box

  const tell = (event, detail) => (answers.get(event) ?? []).forEach((answer) => answer(detail));
  const shift = (part) => part.lift * state.gap;
  const extra = () => state.factor - 1;
  const visible = () => parts.filter((part) => !hidden.has(part.key));
  const density = () => Math.min(2, window.devicePixelRatio || 1);
  const size = () => [canvas.clientWidth || 1, canvas.clientHeight || 1];

  function placed(part) {
    if (placements.has(part.key)) return placements.get(part.key);
    const points = new Float32Array(part.points.length);
    const low = [Infinity, Infinity, Infinity];
    const high = [-Infinity, -Infinity, -Infinity];
    const moved = [0, 0, shift(part)];
    for (let i = 0; i < points.length; i += 1) {
      const axis = i % 3;
      points[i] = part.points[i] + extra() * part.growth[i] + moved[axis];
      if (points[i] < low[axis]) low[axis] = points[i];
      if (points[i] > high[axis]) high[axis] = points[i];
    }
    const spot = { points, low, high };
    placements.set(part.key, spot);
    return spot;
  }

  // Corners of the boxes around the visible parts.
  function corners() {
    const all = visible().flatMap((part) => {
      const { low, high } = placed(part);
      return [0, 1, 2, 3, 4, 5, 6, 7].map((n) => [0, 1, 2].map((axis) => (n & (1 << axis) ? high : low)[axis]));
    });
    return all.length ? all : [[-1, -1, -1], [1, 1, 1]];
  }

  function refit() {
    const [width, height] = size();
    const spare = labels && state.gap > 0 ? Math.min(0.5, labels.room() / width) : 0;
    frame(camera, corners(), width / height, spare);
    state.held = false;
    ask();
  }

  // Quads and outlines of the cut for each visible part, in the order of the drawing.
  function loadCut(items) {
    const { axis, at } = state.cut;
    const side = axis === "x" ? 0 : 1;
    const quads = [];
    const ends = [];
    const ranges = items.map(({ part }) => {
      const { points, low, high } = placed(part);
      const corner = (across, up) => [0, 1, 2].map((k) => (k === side ? at : k === 2 ? up : across));
      const [a, b] = [low[1 - side], high[1 - side]];
      const square = [[a, low[2]], [b, low[2]], [b, high[2]], [a, low[2]], [b, high[2]], [a, high[2]]];
      quads.push(...square.flatMap(([across, up]) => corner(across, up)));
      const from = ends.length / 3;
      for (const number of sectionLines(points, part.triangles, side, at)) ends.push(number);
      return [from, ends.length / 3 - from];
    });
    painter.loadCut(quads, ends);
    return { ends, ranges };
  }

  let edges = { ends: [], ranges: [] };
  function shot() {
    const [width, height] = size();
    const { back } = axesOf(camera);
    const all = corners();
    const middle = dot(back, camera.target);
    const reach = 1 + all.reduce((most, corner) => Math.max(most, Math.abs(dot(back, corner) - middle)), 0);
    const scale = height / (2 * camera.half);
    const items = visible().map((part) => {
      // outlines of the cut fade where they come so close that they would paint the stack dark
      const room = scale * part.thickness * (part.thin ? state.factor : 1);
      const line = Math.max(0, Math.min(0.9, (room - 0.7) / 5));
      return { part, mesh: meshes.get(part.key), shift: shift(part), line };
    });
    if (state.cut && cutStale) {
      edges = loadCut(items);
      cutStale = false;
    }
    let knife = null;
    if (state.cut) {
      const side = state.cut.axis === "x" ? 0 : 1;
      const toward = back[side] >= 0 ? 1 : -1; // what lies between the cut and the eye is taken away
      knife = [0, 0, 0, toward * state.cut.at];
      knife[side] = toward;
    }
    const lens = lensOf(camera, width / height, reach);
    return { lens, knife, extra: extra(), dense: density(), above: camera.rise > 0, items, edges, mark: state.mark, markColour: options.mark ?? MARK };
  }

  // The corner farthest to the right of what the knife leaves of a part.
  function anchorOf({ part }, slot, { lens, knife, edges: { ends, ranges } }) {
    const { right } = axesOf(camera);
    let [best, most] = [null, -Infinity];
    const look = (points, from, to) => {
      for (let i = from; i < to; i += 3) {
        const along = right[0] * points[i] + right[1] * points[i + 1];
        if (along > most && !(knife && knife[0] * points[i] + knife[1] * points[i + 1] > knife[3] + 1e-3)) {
          [best, most] = [points.slice(i, i + 3), along];
        }
      }
    };
    const { points } = placed(part);
    look(points, 0, points.length);
    if (knife) look(ends, 3 * ranges[slot][0], 3 * (ranges[slot][0] + ranges[slot][1]));
    if (!best) return [];
    const [x, y] = project(lens, best, ...size());
    // seen from the side the labels keep the order of the stack, wherever a film's wide flange ends
    return [{ key: part.key, x, y, level: Math.cos(camera.rise) > 0.3 ? part.lift : 0 }];
  }

  function drawNow() {
    cancelAnimationFrame(waiting);
    waiting = 0;
    if (state.lost) return;
    const [width, height] = size();
    const [wide, high] = [Math.round(width * density()), Math.round(height * density())];
    if (canvas.width !== wide || canvas.height !== high) Object.assign(canvas, { width: wide, height: high });
    const now = shot();
    painter.draw(now, wide, high);
    labels?.place(state.gap > 0 ? now.items.flatMap((item, slot) => anchorOf(item, slot, now)) : [], width, height);
    state.drawn += 1;
    tell("draw", { count: state.drawn, pixel: (2 * camera.half) / height, lens: now.lens, size: [width, height], gap: state.gap });
  }

  function ask() {
    if (!waiting && !state.lost) waiting = requestAnimationFrame(drawNow);
  }

  function changed() {
    cutStale = true;
    placements = new Map();
    if (state.held) ask();
    else refit();
  }

  function setScene(next) {
    meshes.forEach((mesh) => painter.unload(mesh));
    parts = [...next].sort((a, b) => a.lift - b.lift);
    meshes = new Map(parts.map((part) => [part.key, painter.load(part)]));
    labels?.setParts(parts);
    changed();
  }

  function setView(name) {
    Object.assign(camera, VIEWS[name]);
    refit();
    tell("view", name);
  }

  function pick(x, y) {
    const [width, height] = size();
    if (state.lost || x < 0 || y < 0 || x >= width || y >= height) return null;
    const now = shot();
    const [px, py] = [(x * canvas.width) / width, ((height - y) * canvas.height) / height].map(Math.floor);
    const slot = painter.slotAt(now, canvas.width, canvas.height, px, Math.min(py, canvas.height - 1));
    return slot < 0 ? null : now.items[slot].part.key;
  }

  const act = {
    turn(dx, dy) {
      camera.turn += dx;
      camera.rise = Math.max(-DEEPEST, Math.min(DEEPEST, camera.rise + dy));
      tell("view", "");
      ask();
    },
    slide(dx, dy) {
      slide(camera, dx, dy, size()[1]);
      state.held = true;
      ask();
    },
    // Zoom about a place of the picture, its middle when none is given.
    zoom(share, x = size()[0] / 2, y = size()[1] / 2) {
      const [width, height] = size();
      const away = [width / 2 - x, height / 2 - y].map((part) => part * (1 - share));
      slide(camera, away[0], away[1], height);
      camera.half = Math.max(0.05, Math.min(1e5, camera.half * share));
      state.held = true;
      ask();
    },
    view: setView,
    fit: refit,
    lens() {
      camera.perspective = !camera.perspective;
      refit();
      tell("lens", camera.perspective);
    },
    hover: (x, y) => tell("hover", { x, y }),
    tap: (x, y) => tell("pick", pick(x, y)),
  };
  const deafen = listen(canvas, act);

  const lose = (event) => {
    event.preventDefault();
    state.lost = true;
    tell("lost");
  };
  const restore = () => {
    state.lost = false;
    painter = createPainter(gl);
    meshes = new Map(parts.map((part) => [part.key, painter.load(part)]));
    changed();
    tell("restored");
  };
  canvas.addEventListener("webglcontextlost", lose);
  canvas.addEventListener("webglcontextrestored", restore);
  const watch = new ResizeObserver(() => (state.held ? ask() : refit()));
  watch.observe(canvas);

  return {
    setScene,
    setSpread(gap) { state.gap = gap; changed(); },
    setCut(cut) { state.cut = cut; cutStale = true; ask(); },
    setVisible(key, shown) {
      if (shown) hidden.delete(key);
      else hidden.add(key);
      cutStale = true;
      ask();
    },
    setThickness(factor) { state.factor = factor; changed(); },
    setView,
    setMark(key) { state.mark = key; ask(); },
    turn: act.turn,
    zoom: act.zoom,
    toggleLens: act.lens,
    fit: refit,
    pick,
    on(event, answer) { answers.set(event, [...(answers.get(event) ?? []), answer]); },
    drawNow,
    dispose() {
      cancelAnimationFrame(waiting);
      deafen();
      watch.disconnect();
      labels?.dispose();
      canvas.removeEventListener("webglcontextlost", lose);
      canvas.removeEventListener("webglcontextrestored", restore);
      gl.getExtension("WEBGL_lose_context")?.loseContext();
    },
  };
}

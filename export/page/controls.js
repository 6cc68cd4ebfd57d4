// The controls around the picture, for every page that shows it: sliders, cut, list of layers, views.

export const byId = (key) => document.getElementById(key);
export const all = (query) => [...document.querySelectorAll(query)];
export const say = (text) => { byId("said").textContent = text; };

export function bindSlider(key, words, act) {
  const input = byId(key);
  const update = () => {
    const text = words(input.valueAsNumber);
    byId(`${key}-says`).textContent = text;
    input.setAttribute("aria-valuetext", text);
    act(input.valueAsNumber);
  };
  input.addEventListener("input", update);
  update();
}

// Gives a function that fits the ends of the cut to other parts.
export function bindCut(viewer, partsOf) {
  const [range, box] = [byId("cut"), byId("cut-mm")];
  const ends = (axis) => {
    const parts = partsOf();
    const solid = parts.filter((part) => !part.translucent);
    const own = (solid.length ? solid : parts).map(({ low, size }) => [low[axis], low[axis] + size[axis]]);
    return [Math.min(...own.map(([low]) => low)), Math.max(...own.map(([, high]) => high))];
  };
  const chosen = () => document.querySelector("input[name=cut]:checked").value;
  const cut = (at) => {
    const axis = chosen();
    viewer.setCut(axis ? { axis, at } : null);
    range.setAttribute("aria-valuetext", `${at} mm from the middle`);
  };
  const fit = () => {
    const axis = chosen();
    [range, box].forEach((input) => {
      input.disabled = !axis;
      if (!axis) return;
      [input.min, input.max] = ends(axis === "x" ? 0 : 1).map((end, i) => (i ? Math.floor(end) : Math.ceil(end)));
    });
  };
  all("input[name=cut]").forEach((radio) => radio.addEventListener("change", () => {
    fit();
    [range, box].forEach((input) => { if (!input.disabled) input.value = 0; });
    cut(0);
  }));
  range.addEventListener("input", () => {
    box.value = range.value;
    cut(range.valueAsNumber);
  });
  box.addEventListener("input", () => {
    if (!box.validity.valid || box.value === "") return;
    range.value = box.value;
    cut(box.valueAsNumber);
  });
  return fit;
}

const boxes = () => all(".layers input");
const rowOf = (key) => boxes().find((box) => box.dataset.key === key)?.closest("li");
const describe = ({ key, number, name, material, note }) => [`${number} ${name}`.trim(), material, note, rowOf(key)?.dataset.place]
  .filter(Boolean).join(", ");

// Boxes and marks of the rows that the list of layers has now.
export function bindRows(viewer) {
  boxes().forEach((box) => {
    const { key } = box.dataset;
    box.addEventListener("change", () => viewer.setVisible(key, box.checked));
    const row = box.closest("li");
    ["pointerenter", "focusin"].forEach((type) => row.addEventListener(type, () => viewer.setMark(key)));
    ["pointerleave", "focusout"].forEach((type) => row.addEventListener(type, () => viewer.setMark(null)));
  });
  document.querySelector("[data-act=all]").addEventListener("click", () => boxes().forEach((box) => {
    box.checked = true;
    viewer.setVisible(box.dataset.key, true);
  }));
}

// What is pointed at in the picture is told beside it, and marked in the list.
export function bindPointing(viewer, partsOf) {
  const point = (key) => {
    const part = partsOf().find((one) => one.key === key);
    byId("tip").textContent = part ? describe(part) : "";
    viewer.setMark(part ? key : null);
    return part;
  };
  let waiting = 0;
  viewer.on("hover", ({ x, y }) => {
    cancelAnimationFrame(waiting);
    waiting = requestAnimationFrame(() => point(viewer.pick(x, y)));
  });
  viewer.on("pick", (key) => {
    const part = point(key);
    all(".layers li").forEach((row) => row.classList.toggle("chosen", Boolean(part) && row === rowOf(key)));
    if (part) say(describe(part));
  });
}

export function bindButtons(viewer) {
  const acts = {
    fit: () => viewer.fit(),
    left: () => viewer.turn(-0.26, 0),
    right: () => viewer.turn(0.26, 0),
    nearer: () => viewer.zoom(0.8),
    farther: () => viewer.zoom(1.25),
    lens: () => viewer.toggleLens(),
  };
  all(".stage [data-act]").forEach((button) => button.addEventListener("click", acts[button.dataset.act]));
  const views = all("[data-view]");
  views.forEach((button) => button.addEventListener("click", () => viewer.setView(button.dataset.view)));
  viewer.on("view", (name) => {
    views.forEach((button) => button.setAttribute("aria-pressed", String(button.dataset.view === name)));
    if (name) say(`Seen from: ${views.find((button) => button.dataset.view === name).textContent}`);
  });
  viewer.on("lens", (on) => {
    document.querySelector("[data-act=lens]").setAttribute("aria-pressed", String(on));
    say(on ? "Perspective" : "Parallel");
  });
}

// Both sliders over a scene as long and wide as these parts; "thin" is what counts as a thin sheet, mm.
export function bindSliders(viewer, partsOf, thin) {
  const fit = () => {
    const largest = Math.max(...[0, 1].map((axis) => Math.max(...partsOf().map(({ size }) => size[axis])))) / 4;
    byId("spread").max = Math.max(10, Math.round(largest / 10) * 10);
  };
  fit();
  bindSlider("spread", (gap) => (gap ? `${gap} mm between layers` : "together"), viewer.setSpread);
  bindSlider("thick", (factor) => (factor === 1 ? "true" : `${factor} ×`), (factor) => {
    const words = factor === 1 ? "Every thickness true" : `Sheets up to ${thin} mm: ${factor} × as thick`;
    byId("factor").textContent = words;
    viewer.setThickness(factor);
  });
  return fit;
}

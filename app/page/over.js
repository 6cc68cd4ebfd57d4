// What is drawn over the picture: sizes, the place of a check, and the ring of a valve that can be moved.

import { project } from "/picture/camera.js";

const NAMESPACE = "http://www.w3.org/2000/svg";
const STEP = 5;
const LINE = 18;
const draw = (tag, marks) => {
  const one = document.createElementNS(NAMESPACE, tag);
  Object.entries(marks).forEach(([name, value]) => one.setAttribute(name, value));
  return one;
};

// Where a pixel meets a level plane: the picture of a plane is turned back into the plane.
function levelSpot(lens, [width, height], [px, py], z) {
  const [u, v] = [(2 * px) / width - 1, 1 - (2 * py) / height];
  const at = (line, column) => lens[4 * column + line];
  const rows = [[0, u], [1, v]].map(([line, part]) => [0, 1, 2, 3].map((column) => at(line, column) - part * at(3, column)));
  const [[a, b, c, d], [e, f, g, h]] = rows;
  const [right, under] = [-(c * z + d), -(g * z + h)];
  const whole = a * f - b * e;
  return Math.abs(whole) < 1e-12 ? null : [(right * f - b * under) / whole, (a * under - e * right) / whole];
}

export function createOver(frame, viewer, { moving, moved }) {
  const sheet = draw("svg", { class: "over", "aria-hidden": "true" });
  const grip = Object.assign(document.createElement("button"), { type: "button", className: "grip", hidden: true });
  grip.setAttribute("aria-label", "Valve: move it with the arrow keys");
  const pin = Object.assign(document.createElement("span"), { className: "pin", hidden: true });
  frame.append(sheet, grip, pin);
  let [shot, sizes, place, valve, drag] = [null, [], null, null, null];

  const onto = (point) => project(shot.lens, point, ...shot.size);
  const stand = (one, point) => {
    const [x, y] = onto(point);
    one.style.transform = `translate(${x}px, ${y}px)`;
  };

  // Texts stay whole within the picture, each below those that it would cover.
  function setApart(labels) {
    const taken = [];
    labels.forEach((label) => {
      const half = label.getComputedTextLength() / 2 + 4;
      const x = Math.max(half, Math.min(shot.size[0] - half, Number(label.getAttribute("x"))));
      let y = Math.max(LINE, Number(label.getAttribute("y")));
      // a pixel less than a line, so that what was set below another never counts as covering it by a rounded digit
      const covers = (other) => Math.abs(other.x - x) < other.half + half && Math.abs(other.y - y) < LINE - 1;
      for (let other = taken.find(covers); other; other = taken.find(covers)) y = other.y + LINE;
      taken.push({ x, y, half });
      label.setAttribute("x", x);
      label.setAttribute("y", y);
    });
  }

  // A size whose line is nearly along the view would only be a dot with a text on it.
  function paintSizes() {
    if (shot.gap > 0) { sheet.replaceChildren(); return; }
    sheet.replaceChildren(...sizes.flatMap(({ from, to, text }) => {
      const [[x1, y1], [x2, y2]] = [onto(from), onto(to)];
      const long = Math.hypot(x2 - x1, y2 - y1);
      if (long < 34) return [];
      const [nx, ny] = [(-(y2 - y1) / long) * 5, ((x2 - x1) / long) * 5];
      const label = draw("text", { x: (x1 + x2) / 2, y: (y1 + y2) / 2, "text-anchor": "middle", dy: "0.35em" });
      label.textContent = text;
      return [draw("path", { d: `M${x1} ${y1}L${x2} ${y2}M${x1 - nx} ${y1 - ny}l${2 * nx} ${2 * ny}M${x2 - nx} ${y2 - ny}l${2 * nx} ${2 * ny}` }), label];
    }));
    setApart([...sheet.querySelectorAll("text")]);
  }

  function paint() {
    if (!shot) return;
    paintSizes();
    pin.hidden = !place;
    if (place) stand(pin, [place.point[0], place.point[1], place.point[2] + place.lift * shot.gap]);
    grip.hidden = !valve;
    if (valve) stand(grip, drag?.point ?? [...valve.point.slice(0, 2), valve.point[2] + valve.lift * shot.gap]);
  }
  viewer.on("draw", (next) => { shot = next; paint(); });

  const spotOf = (event) => {
    const box = frame.getBoundingClientRect();
    return levelSpot(shot.lens, shot.size, [event.clientX - box.left, event.clientY - box.top], valve.point[2] + valve.lift * shot.gap);
  };
  const shift = (dx, dy) => {
    drag = { ...drag, dx, dy, point: [valve.point[0] + dx, valve.point[1] + dy, valve.point[2] + valve.lift * shot.gap] };
    moving(dx, dy);
    paint();
  };
  const drop = () => {
    const { dx, dy } = drag ?? {};
    drag = null;
    if (dx || dy) moved(dx, dy);
    else paint();
  };
  grip.addEventListener("pointerdown", (event) => {
    grip.setPointerCapture(event.pointerId);
    drag = { from: spotOf(event), dx: 0, dy: 0 };
  });
  grip.addEventListener("pointermove", (event) => {
    const now = drag?.from && spotOf(event);
    if (now) shift(now[0] - drag.from[0], now[1] - drag.from[1]);
  });
  grip.addEventListener("pointerup", drop);
  grip.addEventListener("pointercancel", () => { drag = null; moving(0, 0); paint(); });
  const ways = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
  grip.addEventListener("keydown", (event) => {
    const way = ways[event.key];
    if (!way) return;
    event.preventDefault();
    const step = event.shiftKey ? 1 : STEP;
    shift((drag?.dx ?? 0) + way[0] * step, (drag?.dy ?? 0) + way[1] * step);
  });
  grip.addEventListener("keyup", (event) => { if (ways[event.key]) drop(); });

  return {
    setSizes(next) { sizes = next; paint(); },
    setPlace(next) { place = next; paint(); },
    setValve(next) { valve = next; drag = null; paint(); },
  };
}

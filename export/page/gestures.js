// Mouse, touch and keys on the picture, told as turn, slide, zoom, view, fit, lens and tap.

const STEP = 0.12;
const KEYS = {
  ArrowLeft: (act, big) => (big ? act.slide(-24, 0) : act.turn(-STEP, 0)),
  ArrowRight: (act, big) => (big ? act.slide(24, 0) : act.turn(STEP, 0)),
  ArrowUp: (act, big) => (big ? act.slide(0, -24) : act.turn(0, STEP)),
  ArrowDown: (act, big) => (big ? act.slide(0, 24) : act.turn(0, -STEP)),
  "+": (act) => act.zoom(0.85),
  "=": (act) => act.zoom(0.85),
  "-": (act) => act.zoom(1 / 0.85),
  1: (act) => act.view("corner"),
  2: (act) => act.view("front"),
  3: (act) => act.view("end"),
  4: (act) => act.view("above"),
  0: (act) => act.fit(),
  Home: (act) => act.fit(),
  p: (act) => act.lens(),
};

export function listen(canvas, act) {
  const stop = new AbortController();
  const on = (type, answer) => canvas.addEventListener(type, answer, { signal: stop.signal, passive: false });
  const held = new Map();
  let moved = 0;
  const place = (event) => {
    const box = canvas.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  };
  const middle = () => {
    const all = [...held.values()];
    const [x, y] = [0, 1].map((i) => all.reduce((sum, point) => sum + point[i], 0) / all.length);
    return { x, y, apart: all.length > 1 ? Math.hypot(all[0][0] - all[1][0], all[0][1] - all[1][1]) : 0 };
  };

  on("pointerdown", (event) => {
    canvas.setPointerCapture(event.pointerId);
    held.set(event.pointerId, place(event));
    if (held.size === 1) moved = 0;
  });
  on("pointermove", (event) => {
    if (!held.has(event.pointerId)) {
      act.hover(...place(event));
      return;
    }
    const before = middle();
    held.set(event.pointerId, place(event));
    const now = middle();
    const [dx, dy] = [now.x - before.x, now.y - before.y];
    moved += Math.abs(dx) + Math.abs(dy);
    if (held.size > 1) {
      act.slide(dx, dy);
      if (before.apart && now.apart) act.zoom(before.apart / now.apart, now.x, now.y);
    } else if (event.shiftKey || event.buttons & 6) {
      act.slide(dx, dy);
    } else {
      act.turn(-dx * 0.008, dy * 0.008);
    }
  });
  const release = (event) => {
    if (held.delete(event.pointerId) && held.size === 0 && event.type === "pointerup" && moved < 6) {
      act.tap(...place(event));
    }
  };
  on("pointerup", release);
  on("pointercancel", release);
  on("pointerleave", () => act.hover(-1, -1));
  on("contextmenu", (event) => event.preventDefault());
  on("wheel", (event) => {
    event.preventDefault();
    act.zoom(Math.exp(Math.sign(event.deltaY) * Math.min(0.25, Math.abs(event.deltaY) / 500)), ...place(event));
  });
  on("keydown", (event) => {
    const answer = KEYS[event.key];
    if (!answer || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    answer(act, event.shiftKey);
  });
  return () => stop.abort();
}

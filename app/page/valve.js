// The valve of a bag that is owned: where it sits, and how much flat film is around it, live while it is moved.

import { byId } from "/picture/controls.js";
import { make } from "./make.js";

const SIDES = ["closed end", "left seam", "right seam", "closure"];

export function roomsOf({ end, left, radius, length, width, closure }) {
  return [end, left, width - left, length - closure - end].map((distance) => distance - radius);
}

function showRooms(valve) {
  byId("rooms").replaceChildren(...roomsOf(valve).map((room, side) => make(
    "li", { className: room < valve.least ? "caution" : "ok" },
    `${SIDES[side]}: ${room.toFixed(0)} mm${room < valve.least ? ` (less than ${valve.least.toFixed(0)} mm)` : ""}`)));
}

export function createValve(change) {
  let valve = null;
  const round = (number) => `${Math.round(number * 10) / 10} mm`;
  const at = (dx, dy) => ({ ...valve, end: valve.end + dx, left: valve.left + dy });
  const set = (next) => change({ "valve.from_closed_end": round(next.end), "valve.from_left_seam": round(next.left) }, "");
  const boxes = [["end", "mm from the closed end"], ["left", "mm from the left seam"]].map(([key, label]) => {
    const box = make("input", { type: "number", step: "any", min: 0, id: `valve-${key}` });
    box.addEventListener("change", () => box.value && set({ ...valve, [key]: box.valueAsNumber }));
    byId("valve-fields").append(make("label", {}, box, ` ${label}`));
    return [key, box];
  });
  const showNumbers = (now) => boxes.forEach(([key, box]) => {
    if (box !== document.activeElement) box.value = Math.round(now[key] * 10) / 10;
  });
  return {
    moving(dx, dy) { showRooms(at(dx, dy)); showNumbers(at(dx, dy)); },
    moved(dx, dy) { set(at(dx, dy)); },
    update(next) {
      valve = next?.owned ? next : null;
      byId("valve").hidden = !valve;
      if (!valve) return;
      showRooms(valve);
      showNumbers(valve);
    },
  };
}

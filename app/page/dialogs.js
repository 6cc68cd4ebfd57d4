// The two dialogs that put another layup on the desk: a flat panel by its sizes, and the demos.

import { byId, say } from "/picture/controls.js";
import { make } from "./make.js";

export function createDialogs(demos, desk) {
  document.querySelectorAll("[data-close]").forEach((button) => button.addEventListener("click", () => button.closest("dialog").close()));
  const start = byId("start");
  const wrong = byId("start-wrong");
  start.querySelector("form").addEventListener("submit", (event) => {
    event.preventDefault();
    const boxes = [...start.querySelectorAll("input")];
    const changes = Object.fromEntries(boxes.filter(({ value }) => value.trim()).map(({ name, value }) => [name, value]));
    const missing = boxes.slice(0, 2).find(({ name }) => !changes[name]);
    if (missing) {
      wrong.textContent = "Write a length and a width.";
      missing.focus();
      return;
    }
    desk.act("new", { changes }).then(() => { start.close(); say("A flat panel is laid up."); }, (fault) => {
      wrong.textContent = fault.message;
      boxes.find(({ name }) => name === fault.key)?.focus();
    });
  });
  const list = byId("demo-list");
  list.append(...demos.map((name) => {
    const button = make("button", { type: "button", textContent: name.replaceAll("-", " "), data: { demo: name } });
    button.addEventListener("click", () => desk.act("demo", { name }).then(() => byId("demos").close(), (fault) => say(fault.message)));
    return button;
  }));
  if (!demos.length) list.append("None came with this program.");
  return {
    start() { wrong.textContent = ""; start.showModal(); },
    demos() { byId("demos").showModal(); },
    complain(fault) {
      byId("gone").textContent = `That file was not opened. ${fault.message}`;
      byId("gone").hidden = false;
    },
  };
}

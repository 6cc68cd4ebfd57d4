// The checks: each has a button that shows its place in the picture and leads to the number to change.

import { byId } from "/picture/controls.js";
import { make, put } from "./make.js";

export function createChecks(choose) {
  const holder = byId("check-list");
  let list = [];
  holder.addEventListener("click", ({ target }) => {
    const place = target.closest("[data-check]")?.dataset.check;
    if (place === undefined) return;
    holder.querySelectorAll("li").forEach((row) => row.classList.toggle("chosen", row.contains(target)));
    choose(list[place]);
  });
  return {
    update(checks, html) {
      list = checks;
      const isOpen = holder.querySelector("details")?.open ?? false;
      put(holder, html);
      const folded = holder.querySelector("details");
      if (folded) folded.open = isOpen;
      holder.querySelectorAll("li").forEach((row, place) => {
        if (row.querySelector("[data-check]") || !list[place]) return;
        const { place: spot, change, title } = list[place];
        if (!spot && !change) return;
        const words = change && !["ok", "not applicable"].includes(list[place].status) ? "Show and change" : "Show";
        row.append(make("button", { type: "button", className: "quiet-button", textContent: words, "aria-label": `${words}: ${title}`, data: { check: place } }));
      });
    },
  };
}

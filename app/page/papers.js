// Papers: what to make, how far it is, and the files to take.

import { byId, say } from "/picture/controls.js";
import { make } from "./make.js";
import { download, order, plain } from "./talk.js";

const LOOK = 400;
const WORDS = { stopped: "Stopped; nothing was kept.", done: "Ready:", none: "", working: "" };
const size = (bytes) => (bytes < 1e6 ? `${(bytes / 1000).toFixed(1)} kB` : `${(bytes / 1e6).toFixed(1)} MB`);

export function createPapers(exports) {
  const dialog = byId("papers");
  const button = (name) => dialog.querySelector(`[data-do=${name}]`);
  byId("paper-kinds").append(...exports.map(({ name, about }) => make("label", {},
    make("input", { type: "checkbox", name: "paper", value: name, checked: true }), make("span", {}, make("b", { textContent: name }), ` ${about}`))));
  let timer = 0;

  const take = (address, name) => {
    const link = make("button", { type: "button", textContent: name });
    link.addEventListener("click", () => download(address, name).catch((fault) => say(fault.message)));
    return link;
  };

  function show(told) {
    const working = told.stand === "working";
    document.documentElement.dataset.papers = told.stand;
    [button("make").hidden, button("stop").hidden, byId("paper-bar").hidden] = [working, !working, !working];
    if (working) [byId("paper-bar").max, byId("paper-bar").value] = [told.of, told.done];
    const said = working ? `Making ${told.making || "ready"} (${told.done} of ${told.of})`
      : told.stand === "failed" ? `It could not be made: ${told.cause}` : WORDS[told.stand];
    if (byId("paper-says").textContent !== said) byId("paper-says").textContent = said;
    const files = told.files ?? [];
    byId("paper-files").replaceChildren(
      ...(files.length > 1 ? [make("li", {}, take("/desk/papers/all", "papers.zip"), " all of them")] : []),
      ...files.map(({ name, bytes }, i) => make("li", {}, take(`/desk/papers/${i}`, name), ` ${size(bytes)}`)));
    clearTimeout(timer);
    if (working) timer = setTimeout(look, LOOK);
  }
  const fail = (fault) => { byId("paper-says").textContent = fault.message; };
  const look = () => plain("/desk/papers").then(show, fail);

  button("make").addEventListener("click", () => {
    const names = [...dialog.querySelectorAll("input:checked")].map(({ value }) => value);
    if (!names.length) fail(new Error("Choose what to make."));
    else order("/desk/papers/make", { names: names.join(",") }).then(show, fail);
  });
  const boxes = () => [...byId("paper-kinds").querySelectorAll("input")];
  const showTick = () => { button("tick").textContent = boxes().some(({ checked }) => checked) ? "Tick none" : "Tick all"; };
  button("tick").addEventListener("click", () => {
    const next = !boxes().some(({ checked }) => checked);
    boxes().forEach((box) => { box.checked = next; });
    showTick();
  });
  byId("paper-kinds").addEventListener("change", showTick);
  button("stop").addEventListener("click", () => order("/desk/papers/stop").then(show, fail));
  return { open() { dialog.showModal(); look(); } };
}

// The page at the bench: ties the numbers, the picture, the checks and the papers to the one document of the server.

import { all, byId, say } from "/picture/controls.js";
import { createChecks } from "./checks.js";
import { createDialogs } from "./dialogs.js";
import { createForm } from "./form.js";
import { put } from "./make.js";
import { createPapers } from "./papers.js";
import { createPicture } from "./picture.js";
import { createDesk, download, plain } from "./talk.js";
import { createValve } from "./valve.js";

const root = document.documentElement;
const act = (name) => document.querySelector(`header [data-do=${name}]`);
let state = null;

const fail = (fault) => say(fault.message);

function showHead() {
  byId("title").textContent = state.title;
  document.title = `${state.dirty ? "• " : ""}${state.title}`;
  byId("where").textContent = `${state.home || "no file yet"}${state.dirty ? ", changes not saved" : state.home ? ", saved" : ""}`;
  [act("undo").disabled, act("redo").disabled] = [!state.undo, !state.redo];
  act("save").hidden = !state.home;
  act("save").disabled = !state.dirty;
  byId("verdict").className = `verdict ${state.verdict}`;
}

function showWords() {
  const { html } = state;
  const hidden = new Set(all(".layers input:not(:checked)").map((box) => box.dataset.key));
  put(byId("verdict"), html.verdict);
  put(byId("size-list"), html.sizes ?? "");
  put(byId("bench"), html.bench ?? "");
  if (html.edge) put(byId("edge"), html.edge);
  byId("remark").textContent = state.remark;
  if (html.layers && put(byId("layer-list"), html.layers)) picture.rows(hidden);
}

let waiting = 0;
function showBlanks() {
  clearTimeout(waiting);
  waiting = setTimeout(() => plain("/desk/blanks").then(({ html }) => put(byId("blank-list"), html), () => {}), 400);
}

function hear(next, parts, isOther) {
  const before = state?.verdict;
  state = next;
  showHead();
  if (parts) picture.setParts(parts);
  showWords();
  valve.update(state.valve);
  picture.update(state);
  checks.update(state.checks, state.html.checks);
  const bad = form.update(state, isOther || !before);
  showBlanks();
  if (isOther) say("Another page changed this layup first: your last step was not made. This is how it stands.");
  else if (bad.length) say(`Can't be: ${bad.join(", ")}. The picture shows the last layup that can.`);
  else if (before && before !== state.verdict) say(byId("verdict").textContent);
  root.dataset.revision = state.revision;
}

const desk = createDesk(hear);
const change = (changes, stroke) => desk.act("change", { changes, stroke }).catch(fail);
let [form, checks, picture, papers, valve] = [];

function bind(dialogs) {
  const acts = {
    start: dialogs.start,
    demos: dialogs.demos,
    open: () => byId("file").click(),
    undo: () => desk.act("undo").catch(fail),
    redo: () => desk.act("redo").catch(fail),
    save: () => desk.act("save").then(() => say("Saved."), fail),
    copy: () => download("/desk/copy", "layup.toml").then(() => desk.act("copied")).catch(fail),
    papers: () => papers.open(),
  };
  Object.entries(acts).forEach(([name, answer]) => act(name).addEventListener("click", answer));
  document.addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
    const name = { z: event.shiftKey ? "redo" : "undo", y: "redo", s: state?.home ? "save" : "copy" }[event.key.toLowerCase()];
    const isText = event.target.matches?.("input:not([type]), input[type=text], input[type=number], textarea");
    if (!name || (isText && event.key.toLowerCase() !== "s")) return;
    event.preventDefault();
    acts[name]();
  });
  byId("file").addEventListener("change", async ({ target }) => {
    const [file] = target.files;
    if (!file) return;
    if (file.size > 1_000_000) say("That file is too large to be a layup.");
    else await desk.act("open", { text: await file.text() }).then(() => say(`${state.title} is open.`), dialogs.complain);
    target.value = "";
  });
  window.addEventListener("beforeunload", (event) => { if (state?.dirty) event.preventDefault(); });
  document.addEventListener("visibilitychange", () => { if (!document.hidden) desk.look().catch(fail); });
  window.addEventListener("gone", () => {
    byId("gone").textContent = "The program has ended or does not answer. What was not saved is kept in a file beside yours.";
    byId("gone").hidden = false;
  });
}

async function begin() {
  const told = await plain("/desk/form");
  form = createForm(told, change);
  checks = createChecks((check) => {
    picture.show(check.place);
    if (check.change) form.focus(check.change);
    else if (check.place) document.querySelector("#picture").scrollIntoView({ block: "nearest" });
    say(`${check.title}: ${check.message}`);
  });
  valve = createValve(change);
  picture = createPicture(valve);
  papers = createPapers(told.exports);
  bind(createDialogs(told.demos, desk));
  await desk.look();
}

begin().catch(fail);

// The numbers of the layup: a field for every key, built from what the server tells of them.

import { byId } from "/picture/controls.js";
import { make } from "./make.js";

const OPEN = ["panel", "substrate", "face"];
const PAUSE = 140;
const id = (key) => `field-${key}`;

function control(field) {
  const common = { id: id(field.key), name: field.key, "aria-describedby": `says-${field.key} help-${field.key}` };
  if (field.choices) {
    return make("select", common, make("option", { value: "" }), ...field.choices.map((word) => make("option", { value: word, textContent: word })));
  }
  if (field.long) return make("textarea", { ...common, rows: 3, autocomplete: "off", spellcheck: false, maxLength: 2000 });
  const list = field.list ? { list: field.none ? `list-${field.list}-none` : `list-${field.list}` } : {};
  return make("input", { ...common, ...list, type: "text", autocomplete: "off", spellcheck: false, maxLength: 200 });
}

function row(field) {
  const limits = field.limits ? ` From ${field.limits}.` : "";
  return make("div", { className: "field" },
    make("label", { for: id(field.key), textContent: field.label }),
    control(field),
    make("p", { id: `says-${field.key}`, className: "says" }),
    make("p", { id: `help-${field.key}`, className: "help", textContent: field.help + limits }),
    make("p", { id: `wrong-${field.key}`, className: "wrong", role: "alert" }));
}

function section({ name, title, about, fields }) {
  return make("details", { id: `group-${name}`, open: OPEN.includes(name) },
    make("summary", {}, make("span", { textContent: title }), make("span", { className: "flag" })),
    make("p", { className: "quiet", textContent: about }),
    ...fields.map(row));
}

function lists(materials) {
  return Object.entries(materials).flatMap(([kind, names]) => [["", names], ["-none", ["none", ...names]]].map(([mark, words]) => make(
    "datalist", { id: `list-${kind}${mark}` }, ...words.map((word) => make("option", { value: word })))));
}

// "change" is called with what was typed, and whether it goes on with the word before it.
export function createForm(told, change) {
  const holder = byId("fields");
  holder.append(...lists(told.materials), ...told.form.map(section), ownSection(change));
  const timers = new Map();
  let stroke = 0;
  const sent = new Map();
  const send = (input) => {
    clearTimeout(timers.get(input));
    if (sent.get(input.name) === input.value) return;
    sent.set(input.name, input.value);
    change({ [input.name]: input.value || null }, `${input.name} ${stroke}`);
  };
  holder.addEventListener("input", ({ target }) => {
    if (!target.name || target.tagName === "SELECT") return;
    clearTimeout(timers.get(target));
    timers.set(target, setTimeout(() => send(target), PAUSE));
  });
  holder.addEventListener("change", ({ target }) => target.name && send(target));
  holder.addEventListener("focusin", () => { stroke += 1; });

  function show(input, value) {
    sent.set(input.name, value);
    if (input.value !== value) input.value = value;
  }

  function one(key, { typed = "", says = "", reason = "", wrong = "" }, isOther) {
    const input = byId(id(key));
    if (!input) return "";
    // what is being typed is never written over, unless another hand changed it
    if (input !== document.activeElement || input.tagName === "SELECT" || isOther) show(input, typed);
    else if (!timers.get(input)) sent.set(key, typed);
    if (input.tagName === "SELECT") input.options[0].textContent = says && !typed ? `${says} (default)` : "as by default";
    else input.placeholder = says;
    byId(`says-${key}`).textContent = typed ? (says === typed ? "" : says) : says ? `by default: ${reason}` : reason;
    byId(`wrong-${key}`).textContent = wrong;
    input.toggleAttribute("aria-invalid", Boolean(wrong));
    if (wrong) {
      input.setAttribute("aria-invalid", "true");
      input.setAttribute("aria-errormessage", `wrong-${key}`);
    }
    input.closest(".field").classList.toggle("bad", Boolean(wrong));
    return wrong;
  }

  function update({ values, own, bent }, isOther) {
    const bad = told.form.flatMap(({ name, fields }) => {
      const wrongs = fields.filter(({ key }) => one(key, values[key] ?? {}, isOther)).map(({ label }) => label);
      // a flat panel lies on a platen, a bent one on a form, and only a bent one tapers: the others could only be refused
      byId(`group-${name}`).hidden = (bent ? ["platen"] : ["form", "taper"]).includes(name) && !wrongs.length;
      byId(`group-${name}`).querySelector(".flag").textContent = wrongs.length ? `can't be: ${wrongs.join(", ")}` : "";
      return wrongs;
    });
    showOwn(own, values);
    return bad;
  }

  function focus(key) {
    const input = byId(id(key)) ?? byId(`group-${key}`)?.querySelector("input, select, textarea");
    if (!input) return false;
    input.closest("details").open = true;
    input.focus();
    input.scrollIntoView({ block: "center" });
    return true;
  }
  return { update, focus };
}

// Values of materials that the layup replaces: a row each, and one more to add.
function ownSection(change) {
  const add = (label, name, example) => make("label", {}, label, make("input", { id: `own-${name}`, type: "text", autocomplete: "off", placeholder: example }));
  const button = make("button", { type: "button", textContent: "Set it" });
  button.addEventListener("click", () => {
    const [material, property, value] = ["material", "property", "value"].map((name) => byId(`own-${name}`).value.trim());
    if (!material || !property || !value || /[.]/.test(material + property)) {
      byId("own-wrong").textContent = "Write a material, what you measured, and its value.";
      return;
    }
    byId("own-wrong").textContent = "";
    change({ [`values.${material}.${property}`]: value }, "");
  });
  return make("details", { id: "group-values" },
    make("summary", {}, make("span", { textContent: "Your own values of materials" }), make("span", { className: "flag" })),
    make("p", { className: "quiet", textContent: "What you measured yourself, in place of the tables' values." }),
    make("div", { id: "own-list" }),
    make("div", { className: "own" }, add("Material", "material", "such as black walnut"), add("Property", "property", "such as density"), add("Value", "value", "such as 640 kg/m³"), button),
    make("p", { id: "own-wrong", className: "wrong", role: "alert" }));
}

function showOwn(own, values) {
  const waiting = Object.entries(values).filter(([key]) => key.startsWith("values."))
    .map(([key, value]) => ({ key, ...value }));
  const rows = [...own.filter(({ key }) => !waiting.some((one) => one.key === key)), ...waiting];
  const list = byId("own-list");
  if (list.contains(document.activeElement)) return;
  list.replaceChildren(...rows.map(({ key, typed, wrong = "" }) => make("div", { className: `field${wrong ? " bad" : ""}` },
    make("label", { for: `field-${key}`, textContent: key.split(".").slice(1).join(" · ") }),
    make("input", { id: `field-${key}`, name: key, type: "text", value: typed, autocomplete: "off" }),
    make("p", { className: "wrong", textContent: wrong }))));
}

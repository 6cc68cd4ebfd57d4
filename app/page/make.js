// Making elements: texts are always set as texts, never as markup.

export function make(tag, properties = {}, ...children) {
  const { data = {}, ...plain } = properties;
  const one = document.createElement(tag);
  for (const [name, value] of Object.entries(plain)) {
    if (name.includes("-") || name === "for" || name === "list" || name === "role") one.setAttribute(name, value);
    else one[name] = value;
  }
  Object.assign(one.dataset, data);
  one.append(...children);
  return one;
}

// What the server wrote from its own templates, with every text in it escaped; what stands there already is left alone.
const written = new WeakMap();

export function put(holder, html) {
  if (written.get(holder) === html) return false;
  holder.innerHTML = html;
  written.set(holder, html);
  return true;
}

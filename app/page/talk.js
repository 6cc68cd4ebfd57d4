// Requests to the page's own server. One change goes after the other, each with the revision that it was made on.

import { readParts } from "/picture/parts.js";

const token = document.querySelector("meta[name=token]").content;
const marks = { "x-underbag-token": token };

export class Refused extends Error {
  constructor(message, key = "") {
    super(message);
    this.key = key;
  }
}

async function ask(address, options = {}) {
  let answer;
  try {
    answer = await fetch(address, { ...options, headers: { ...marks, ...options.headers } });
  } catch {
    window.dispatchEvent(new Event("gone"));
    throw new Refused("The program does not answer. It keeps what it had; start it again.");
  }
  if (answer.ok || answer.status === 409) return answer;
  const said = await answer.json().catch(() => ({ message: `The program answers ${answer.status}.` }));
  throw new Refused(said.message, said.key);
}

const send = (address, content) => ask(address, {
  method: "POST", body: JSON.stringify(content), headers: { "content-type": "application/json" },
});

export const plain = async (address) => (await ask(address)).json();
export const order = async (address, content = {}) => (await send(address, content)).json();

export async function download(address, name) {
  const answer = await ask(address);
  const named = /filename="([^"]+)"/.exec(answer.headers.get("content-disposition") ?? "");
  const link = Object.assign(document.createElement("a"), {
    href: URL.createObjectURL(await answer.blob()), download: named?.[1] ?? name,
  });
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

// The desk: the state that was told last, and the one line of requests. "hear" is called with each state,
// the parts where they changed, and whether another tab was faster.
export function createDesk(hear) {
  const tabs = new BroadcastChannel("underbag-desk");
  let [revision, known, last] = [0, "", Promise.resolve()];

  async function take(answer) {
    const data = await answer.arrayBuffer();
    const length = new DataView(data).getUint32(0, true);
    const state = JSON.parse(new TextDecoder().decode(new Uint8Array(data, 4, length)));
    const packed = data.slice(4 + length);
    const parts = packed.byteLength ? readParts(packed) : null;
    revision = state.revision;
    if (parts) known = state.picture;
    hear(state, parts, answer.status === 409);
  }

  const queue = (act) => {
    last = last.catch(() => {}).then(act);
    return last;
  };
  const look = () => queue(async () => take(await ask(`/desk/state?known=${known}`)));
  const act = (name, content = {}) => queue(async () => {
    await take(await send(`/desk/${name}`, { revision, known, ...content }));
    tabs.postMessage(revision);
  });
  tabs.addEventListener("message", () => look().catch(() => {}));
  return { look, act };
}

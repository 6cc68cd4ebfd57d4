// Labels beside the picture, each with a leader to its part. They repeat the layer list, so readers skip them.

const GAP = 4;
const LEADER = 40;

// Places at least a step apart, in the order of the wanted ones and as near to them as can be, within limits.
function apart(wanted, step, low, high) {
  const runs = [];
  wanted.forEach((want, number) => {
    let [mean, count] = [want - number * step, 1];
    while (runs.length && runs.at(-1)[0] > mean) {
      const [before, others] = runs.pop();
      [mean, count] = [(before * others + mean * count) / (others + count), others + count];
    }
    runs.push([mean, count]);
  });
  const last = high - (wanted.length - 1) * step;
  return runs.flatMap(([mean, count]) => Array(count).fill(mean))
    .map((first, number) => Math.max(low, Math.min(first, last)) + number * step);
}

export function createLabels(holder) {
  const lines = document.createElementNS("http://www.w3.org/2000/svg", "svg");
  lines.classList.add("leaders");
  holder.setAttribute("aria-hidden", "true");
  holder.replaceChildren(lines);
  let tags = new Map();

  function setParts(parts) {
    for (const { tag, line } of tags.values()) {
      tag.remove();
      line.remove();
    }
    tags = new Map(parts.map(({ key, number, name }) => {
      const tag = document.createElement("span");
      const line = document.createElementNS(lines.namespaceURI, "polyline");
      tag.className = "tag";
      tag.dataset.key = key;
      if (number) {
        tag.append(Object.assign(document.createElement("b"), { textContent: number }), " ");
      }
      tag.append(Object.assign(document.createElement("span"), { textContent: name }));
      holder.append(tag);
      lines.append(line);
      return [key, { tag, line }];
    }));
  }

  const widest = () => Math.max(0, ...[...tags.values()].map(({ tag }) => tag.getBoundingClientRect().width));
  const room = () => widest() + 2 * GAP + LEADER;

  // Labels stand in one column at the right, the highest level first, then in the order of their anchors, and as near
  // to them as can be.
  function place(anchors, width, height) {
    for (const { tag, line } of tags.values()) {
      tag.style.visibility = "hidden";
      line.setAttribute("points", "");
    }
    const shown = anchors.filter(({ key }) => tags.has(key)).sort((a, b) => b.level - a.level || a.y - b.y);
    if (!shown.length) return;
    const tall = tags.get(shown[0].key).tag.getBoundingClientRect().height;
    const step = Math.min(tall + GAP, (height - GAP) / shown.length);
    const tops = apart(shown.map(({ y }) => y - step / 2), step, GAP, height - GAP - step);
    const column = width - widest() - 2 * GAP;
    shown.forEach(({ key, x, y }, i) => {
      const { tag, line } = tags.get(key);
      const middle = tops[i] + tall / 2;
      tag.style.visibility = "visible";
      tag.style.transform = `translate(${column}px, ${tops[i]}px)`;
      line.setAttribute("points", `${x},${y} ${Math.max(x, column - 14)},${middle} ${column - 2},${middle}`);
    });
  }

  return { setParts, place, room, dispose: () => holder.replaceChildren() };
}

// The packed parts: a gzipped block of a header and columns of whole numbers, made by pack.py.

const PLACE = 0.002; // mm to a step of corners and growth
const TURN = 0.002;

export function readParts(buffer) {
  const length = new DataView(buffer).getUint32(0, true);
  const bytes = new Uint8Array(buffer);
  const head = JSON.parse(new TextDecoder().decode(bytes.subarray(4, 4 + length)));
  let at = 4 + length;

  // Numbers are stored lowest bytes first, one column after the other, as differences of differences.
  function take(count, columns) {
    const rows = count / columns;
    const out = new Int32Array(count);
    for (let column = 0; column < columns; column += 1) {
      let [value, step] = [0, 0];
      for (let row = 0; row < rows; row += 1) {
        const i = at + column * rows + row;
        step += bytes[i] | (bytes[i + count] << 8) | (bytes[i + 2 * count] << 16) | (bytes[i + 3 * count] << 24);
        value += step;
        out[columns * row + column] = value;
      }
    }
    at += 4 * count;
    return out;
  }
  function scaled(numbers, step) {
    const out = new Float32Array(numbers.length);
    for (let i = 0; i < out.length; i += 1) out[i] = numbers[i] * step;
    return out;
  }

  const faces = [];
  for (const part of head) {
    if (part.faces === faces.length) {
      faces.push({ triangles: new Uint32Array(take(part.triangles, 3)), creases: new Uint32Array(take(part.creases, 2)) });
    }
  }
  const count = head.reduce((sum, part) => sum + part.points, 0);
  const points = scaled(take(count, 3), PLACE);
  const amounts = scaled(take(count / 3, 1), PLACE);
  const growth = scaled(take(count, 3), TURN);
  for (let i = 0; i < count; i += 1) growth[i] *= amounts[Math.trunc(i / 3)];

  let from = 0;
  return head.map((part) => {
    const to = from + part.points;
    const own = { ...part, ...faces[part.faces], points: points.subarray(from, to), growth: growth.subarray(from, to) };
    from = to;
    return own;
  });
}

export async function unpack(base64) {
  const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
  const plain = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
  return readParts(await new Response(plain).arrayBuffer());
}

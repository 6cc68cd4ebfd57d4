// The packed parts: a gzipped block of a header and number arrays, made by pack.py.
// Numbers are 16-bit steps within a range, and every array holds differences, which pack small.

const summed = (numbers) => {
  for (let i = 1; i < numbers.length; i += 1) numbers[i] += numbers[i - 1];
  return numbers;
};

// One axis after the other in the block; corner after corner for the drawing.
function places(steps, low, size) {
  const axes = low.length;
  const count = steps.length / axes;
  const out = new Float32Array(steps.length);
  for (let axis = 0; axis < axes; axis += 1) {
    const own = summed(steps.subarray(axis * count, (axis + 1) * count));
    for (let i = 0; i < count; i += 1) out[axes * i + axis] = low[axis] + (own[i] / 65535) * size[axis];
  }
  return out;
}

export function readParts(buffer) {
  const length = new DataView(buffer).getUint32(0, true);
  const head = JSON.parse(new TextDecoder().decode(new Uint8Array(buffer, 4, length)));
  let at = 4 + length;
  const take = (Kind, count) => {
    const block = new Kind(buffer.slice(at, at + count * Kind.BYTES_PER_ELEMENT));
    at += count * Kind.BYTES_PER_ELEMENT;
    return block;
  };
  return head.map((part) => {
    const triangles = summed(take(Uint32Array, part.triangles));
    const creases = summed(take(Uint32Array, part.creases));
    const points = places(take(Uint16Array, part.points), part.low, part.size);
    const amounts = places(take(Uint16Array, part.points / 3), [part.growth[0]], [part.growth[1]]);
    const normals = places(take(Uint16Array, part.points), [-1, -1, -1], [2, 2, 2]);
    const growth = normals.map((normal, i) => normal * amounts[Math.floor(i / 3)]);
    return { ...part, triangles, creases, points, growth };
  });
}

export async function unpack(base64) {
  const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
  const plain = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
  return readParts(await new Response(plain).arrayBuffer());
}

// The camera: where the eye stands, and where a point of the work falls on the picture.
// x runs along the panel, y across it, z up; all lengths are mm.

export const VIEWS = {
  corner: { turn: 0.6, rise: 0.5 },
  front: { turn: 0, rise: 0 },
  end: { turn: Math.PI / 2, rise: 0 },
  above: { turn: 0, rise: Math.PI / 2 },
};

const FIELD = Math.tan(Math.PI / 12); // half the opening of the perspective lens

// "half" is half the height of the picture, in mm at the target.
export function createCamera() {
  return { ...VIEWS.corner, target: [0, 0, 0], half: 100, perspective: false };
}

// Unit directions of the picture: to the right, up, and back toward the eye.
export function axesOf({ turn, rise }) {
  const [st, ct, sr, cr] = [Math.sin(turn), Math.cos(turn), Math.sin(rise), Math.cos(rise)];
  return { right: [ct, st, 0], up: [-st * sr, ct * sr, cr], back: [st * cr, -ct * cr, sr] };
}

export const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

// Matrix (column by column) from mm to the picture; "reach" is how far the work extends from the target.
export function lensOf(camera, aspect, reach) {
  const { right, up, back } = axesOf(camera);
  const row = (axis, scale) => [...axis.map((part) => part * scale), -dot(axis, camera.target) * scale];
  let rows;
  if (camera.perspective) {
    const away = camera.half / FIELD;
    const near = Math.max(away - reach, away * 0.02);
    const far = away + reach;
    const ahead = row(back, -1);
    ahead[3] += away;
    const depth = ahead.map((part) => (part * (far + near)) / (far - near));
    depth[3] -= (2 * far * near) / (far - near);
    rows = [row(right, 1 / (FIELD * aspect)), row(up, 1 / FIELD), depth, ahead];
  } else {
    rows = [row(right, 1 / (camera.half * aspect)), row(up, 1 / camera.half), row(back, -1 / reach), [0, 0, 0, 1]];
  }
  return new Float32Array([0, 1, 2, 3].flatMap((column) => rows.map((line) => line[column])));
}

// Place on the picture in CSS pixels.
export function project(lens, point, width, height) {
  const [x, y, , w] = [0, 1, 2, 3].map(
    (line) => lens[line] * point[0] + lens[4 + line] * point[1] + lens[8 + line] * point[2] + lens[12 + line],
  );
  return [((x / w + 1) * width) / 2, ((1 - y / w) * height) / 2];
}

// Put the work in the middle of the picture, with "spare" (a part of the width) left free at the right.
export function frame(camera, corners, aspect, spare) {
  const { right, up, back } = axesOf(camera);
  const range = (axis) => {
    const along = corners.map((corner) => dot(axis, corner));
    return [Math.min(...along), Math.max(...along)];
  };
  const [x, y, z] = [range(right), range(up), range(back)];
  const [wide, high, deep] = [x, y, z].map(([low, top]) => top - low);
  const margin = camera.perspective ? 1.12 : 1.08;
  const nearer = camera.perspective ? (deep / 2) * FIELD : 0;
  camera.half = Math.max(1e-3, (margin * Math.max(high, wide / (aspect * (1 - spare)))) / 2 + nearer);
  const middle = [(x[0] + x[1]) / 2 + camera.half * aspect * spare, (y[0] + y[1]) / 2, (z[0] + z[1]) / 2];
  camera.target = [0, 1, 2].map((i) => right[i] * middle[0] + up[i] * middle[1] + back[i] * middle[2]);
}

// Slide the picture by CSS pixels.
export function slide(camera, dx, dy, height) {
  const { right, up } = axesOf(camera);
  const step = (2 * camera.half) / height;
  camera.target = camera.target.map((part, i) => part - right[i] * dx * step + up[i] * dy * step);
}
